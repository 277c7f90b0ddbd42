import { evacuationLevelInHg, type Recovery } from './evacuation-level.ts';
import type { RefrigerantRefusal } from './refrigerant-refusal.ts';

/** One inch of mercury in psi. */
const psiPerInHg = 0.49115;

/** Major: compressor, condenser, evaporator or auxiliary heat exchanger coil comes out. */
export type Repair = 'major' | 'other';

/**
 * Refuses to open the circuit while its gauge shows more than the law allows; undefined when it may
 * be opened. A major repair needs the evacuation level of table 1; any other repair may open it
 * without evacuation at 0 psig or below. Refrigerant taken out to get there is recovered, never
 * vented. The level is held against the gauge as it reads, which on a high site is the stricter way.
 * Source: 40 CFR 82.156 and its table 1.
 * Worked: a filter drier at 0 psig -> allowed, at 3 psig -> refused; a compressor of a 300 lb R-22
 * chiller at 0 psig -> refused, it needs 10 in. Hg (-4.9 psig).
 */
export function openingRefusal(
  systemPsig: number,
  repair: Repair,
  recovery: Recovery,
): RefrigerantRefusal | undefined {
  const vacuumInHg = repair === 'major' ? evacuationLevelInHg(recovery) : 0;
  if (systemPsig <= -vacuumInHg * psiPerInHg) return undefined;
  const level = vacuumInHg === 0 ? '0 psig' : `${vacuumInHg} in. Hg of vacuum`;
  return {
    code: 'pressure_before_opening',
    message: `Recover down to ${level} before opening the circuit. Never vent.`,
    source: '40 CFR 82.156',
  };
}
