import { z } from 'zod';
import { keysOf } from './keys-of.ts';
import type { Quantity } from './quantities.ts';

/**
 * What a point can show of one quantity, in that quantity's unit. `low` to `high` is what is
 * possible at all, dead parts and locked rotors included; `usualLow` to `usualHigh` is what a
 * sound or worn part shows, and is used to guess what a slipped figure was meant to be.
 */
export type PointRange = { low: number; high: number; usualLow: number; usualHigh: number };

type PointWords = { name: string; ranges: Partial<Record<Quantity, PointRange>> };

const controlVolts: PointRange = { low: 0, high: 40, usualLow: 18, usualHigh: 30 };
const capacitorVolts: PointRange = { low: 0, high: 600, usualLow: 200, usualHigh: 480 };
const poleVolts: PointRange = { low: 0, high: 600, usualLow: 0.01, usualHigh: 5 };
const airDegF: PointRange = { low: -20, high: 150, usualLow: 40, usualHigh: 110 };

/** Where a reading is taken. Ranges: common practice, no source. */
export const pointWords = {
  line_supply: {
    name: 'line voltage at the unit',
    ranges: { voltage: { low: 0, high: 600, usualLow: 100, usualHigh: 490 } },
  },
  capacitor_herm: {
    name: 'compressor section of the run capacitor',
    ranges: {
      capacitance: { low: 0, high: 150, usualLow: 15, usualHigh: 100 },
      current: { low: 0, high: 40, usualLow: 1, usualHigh: 20 },
      voltage: capacitorVolts,
    },
  },
  capacitor_fan: {
    name: 'fan section of the run capacitor',
    ranges: {
      capacitance: { low: 0, high: 60, usualLow: 2, usualHigh: 30 },
      current: { low: 0, high: 10, usualLow: 0.2, usualHigh: 5 },
      voltage: capacitorVolts,
    },
  },
  contactor_pole_1: { name: 'first pole of the contactor', ranges: { voltage: poleVolts } },
  contactor_pole_2: { name: 'second pole of the contactor', ranges: { voltage: poleVolts } },
  contactor_pole_3: { name: 'third pole of the contactor', ranges: { voltage: poleVolts } },
  contactor_coil: {
    name: 'coil of the contactor',
    ranges: {
      // Coils of 120 V and 240 V exist beside the usual 24 V.
      voltage: { ...controlVolts, high: 300 },
      resistance: { low: 0, high: 2000, usualLow: 5, usualHigh: 100 },
    },
  },
  compressor_common: {
    name: 'common lead of the compressor',
    ranges: { current: { low: 0, high: 300, usualLow: 2, usualHigh: 150 } },
  },
  outdoor_fan_lead: {
    name: 'lead of the outdoor fan motor',
    ranges: { current: { low: 0, high: 20, usualLow: 0.2, usualHigh: 5 } },
  },
  control_supply: { name: 'control supply at the board', ranges: { voltage: controlVolts } },
  control_fuse: {
    name: 'control fuse on the board',
    ranges: {
      voltage: controlVolts,
      resistance: { low: 0, high: 1000, usualLow: 0.01, usualHigh: 1 },
    },
  },
  float_switch_in: { name: 'wire into the float switch', ranges: { voltage: controlVolts } },
  float_switch_out: { name: 'wire out of the float switch', ranges: { voltage: controlVolts } },
  return_air: { name: 'return air', ranges: { temperature: airDegF } },
  supply_air: { name: 'supply air', ranges: { temperature: airDegF } },
  outdoor_air: { name: 'outdoor air', ranges: { temperature: airDegF } },
} as const satisfies Record<string, PointWords>;

export const pointCodeSchema = z.enum(keysOf(pointWords));
export type PointCode = z.infer<typeof pointCodeSchema>;

/** The range of a quantity at a point, or undefined where that quantity means nothing there. */
export function pointRange(point: PointCode, quantity: Quantity): PointRange | undefined {
  const words: PointWords = pointWords[point];
  return words.ranges[quantity];
}
