import { z } from 'zod';
import { keysOf } from './keys-of.ts';
import type { Quantity } from './quantities.ts';

/**
 * How good a method is: percent of the reading plus counts of the display's last digit. The last
 * digit is worth `resolution`, in the quantity's unit, as long as the value is at most `upTo`.
 */
export type Accuracy = {
  percentOfReading: number;
  counts: number;
  ranges: readonly { upTo: number; resolution: number }[];
};

type MethodWords = { name: string; how: string; measures: Partial<Record<Quantity, Accuracy>> };

/** Figures of a typical service meter: common practice, no source. */
export const methodWords = {
  clamp_meter: {
    name: 'clamp meter',
    how: 'by clamp meter',
    measures: {
      current: {
        percentOfReading: 2,
        counts: 3,
        ranges: [
          { upTo: 60, resolution: 0.01 },
          { upTo: 600, resolution: 0.1 },
        ],
      },
      voltage: { percentOfReading: 1, counts: 3, ranges: [{ upTo: 600, resolution: 0.1 }] },
    },
  },
  multimeter: {
    name: 'multimeter',
    how: 'by multimeter',
    measures: {
      voltage: {
        percentOfReading: 1,
        counts: 3,
        ranges: [
          { upTo: 6, resolution: 0.001 },
          { upTo: 60, resolution: 0.01 },
          { upTo: 600, resolution: 0.1 },
        ],
      },
      resistance: {
        percentOfReading: 0.9,
        counts: 2,
        ranges: [
          { upTo: 600, resolution: 0.1 },
          { upTo: 6000, resolution: 1 },
        ],
      },
    },
  },
  capacitance_meter_disconnected: {
    name: 'capacitance meter, leads off',
    how: 'with the leads off',
    measures: {
      capacitance: { percentOfReading: 1.9, counts: 2, ranges: [{ upTo: 200, resolution: 0.01 }] },
    },
  },
  thermometer: {
    name: 'thermometer',
    how: 'by thermometer',
    measures: {
      temperature: { percentOfReading: 0, counts: 10, ranges: [{ upTo: 200, resolution: 0.1 }] },
    },
  },
} as const satisfies Record<string, MethodWords>;

export const methodCodeSchema = z.enum(keysOf(methodWords));
export type MethodCode = z.infer<typeof methodCodeSchema>;

/** The accuracy of a method for a quantity, or undefined where it cannot measure it. */
export function methodAccuracy(method: MethodCode, quantity: Quantity): Accuracy | undefined {
  const words: MethodWords = methodWords[method];
  return words.measures[quantity];
}
