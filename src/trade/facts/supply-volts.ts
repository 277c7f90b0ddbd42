import { compareWithLimit } from '../uncertainty/compare-with-limit.ts';
import type { Facts } from './admit-evidence.ts';
import { measuredAt } from './measured.ts';
import { supplyLimits } from './supply-limits.ts';

/** Below this no line voltage is there at all; common practice, no source. */
export const lineVoltsMin = 20;

/** The least a machine may be fed with, and whose figure that is, to stand before it in a sentence. */
export type LeastSupply = { volts: number; because: string };

/**
 * The least supply voltage of a machine: its plate's, else the usual one of its kind. Undefined
 * where a kind is built for 120 V as well as for 240 V and nobody recorded the plate.
 */
export function leastSupply(facts: Facts): LeastSupply | undefined {
  const { kind, nameplate } = facts.equipment;
  const volts = supplyLimits(facts)?.low;
  if (volts === undefined) return undefined;
  if (nameplate.supplyVoltsMin !== undefined) {
    return { volts, because: 'the nameplate asks for at least' };
  }
  switch (kind) {
    case 'condensing_unit':
    case 'heat_pump':
    case 'package_unit':
      return { volts, because: 'the plate is not on record and a usual 208/230 V unit needs' };
    case 'furnace':
      return { volts, because: 'the plate is not on record and a usual furnace needs' };
    case 'air_handler':
    case 'mini_split':
    case 'evaporator_coil':
    case 'thermostat':
      return undefined;
  }
}

/** No 120 V circuit reaches this, so from here even an unknown machine is fed with 208 V or more. */
export const surelyFedVolts = 187;

/** Whether line voltage is there and enough; undefined while that cannot be told. */
export function supplyClass(
  facts: Facts,
  point: 'line_supply' | 'disconnect_line_side',
): 'none' | 'low' | 'fine' | undefined {
  const settled = measuredAt(facts, point, 'voltage');
  if (settled.kind !== 'settled') return undefined;
  const presence = compareWithLimit(settled.measured, lineVoltsMin);
  if (presence !== 'above') return presence === 'below' ? 'none' : undefined;
  const least = leastSupply(facts)?.volts;
  const side = compareWithLimit(settled.measured, least ?? surelyFedVolts);
  if (side === 'above') return 'fine';
  return side === 'below' && least !== undefined ? 'low' : undefined;
}
