import type { Facts } from '../facts/admit-evidence.ts';
import { blowerPlate } from '../facts/blower-plate.ts';
import { measuredAt } from '../facts/measured.ts';
import { supplyLimits } from '../facts/supply-limits.ts';
import { lineVoltsMin } from '../facts/supply-volts.ts';
import { classOfSection } from '../faults/capacitor/class-of-section.ts';
import { sections } from '../faults/capacitor/sections.ts';
import { noCurrentAmpsMax } from '../faults/weigh-fan-motor.ts';
import { compareWithLimit } from '../uncertainty/compare-with-limit.ts';
import type { PointCode } from '../words/points.ts';
import type { SignCode } from '../words/signs.ts';
import type { SignReader } from './sign-reader.ts';

type Code = Extract<
  SignCode,
  'capacitor_blower' | 'outdoor_fan_amps' | 'outdoor_fan_volts' | 'blower_amps' | 'blower_volts'
>;

/** What is measured of the outdoor fan and the blower, in classes. */
export const fansSignReaders = {
  capacitor_blower: (facts) => classOfSection(facts, sections.blower),
  outdoor_fan_amps: (facts) =>
    classOfAmps(facts, 'outdoor_fan_lead', facts.equipment.nameplate.fanFlaAmps),
  outdoor_fan_volts: (facts) => classOfVolts(facts, 'outdoor_fan_supply'),
  blower_amps: (facts) =>
    classOfAmps(facts, 'blower_lead', blowerPlate(facts.equipment.nameplate).fullLoadAmps),
  blower_volts: (facts) => classOfVolts(facts, 'blower_supply'),
} as const satisfies { [Each in Code]: SignReader<Each> };

function classOfAmps(
  facts: Facts,
  lead: PointCode,
  fullLoadAmps: number | undefined,
): 'none' | 'fine' | 'high' | undefined {
  const settled = measuredAt(facts, lead, 'current');
  if (settled.kind !== 'settled') return undefined;
  const drawn = compareWithLimit(settled.measured, noCurrentAmpsMax);
  if (drawn === 'below') return 'none';
  if (drawn === 'within' || fullLoadAmps === undefined) return undefined;
  const side = compareWithLimit(settled.measured, fullLoadAmps);
  return side === 'within' ? undefined : side === 'above' ? 'high' : 'fine';
}

/** A low voltage is neither none nor fine. */
function classOfVolts(facts: Facts, supply: PointCode): 'none' | 'fine' | undefined {
  const settled = measuredAt(facts, supply, 'voltage');
  if (settled.kind !== 'settled') return undefined;
  if (compareWithLimit(settled.measured, lineVoltsMin) === 'below') return 'none';
  const low = supplyLimits(facts)?.low;
  if (low === undefined) return undefined;
  return compareWithLimit(settled.measured, low) === 'above' ? 'fine' : undefined;
}
