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
          { upTo: 60_000, resolution: 10 },
          { upTo: 600_000, resolution: 100 },
          { upTo: 6_000_000, resolution: 1_000 },
          { upTo: 60_000_000, resolution: 10_000 },
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
  // The peak that a clamp meter holds of the first moments after a start.
  clamp_meter_inrush: {
    name: 'clamp meter, inrush',
    how: 'by clamp meter at the start',
    measures: {
      current: { percentOfReading: 3, counts: 5, ranges: [{ upTo: 600, resolution: 0.1 }] },
    },
  },
  insulation_tester: {
    name: 'insulation tester',
    how: 'by insulation tester',
    measures: {
      resistance: {
        percentOfReading: 5,
        counts: 5,
        ranges: [
          { upTo: 1e6, resolution: 1e3 },
          { upTo: 1e9, resolution: 1e6 },
        ],
      },
    },
  },
  thermometer: {
    name: 'thermometer',
    how: 'by thermometer',
    measures: {
      temperature: { percentOfReading: 0, counts: 10, ranges: [{ upTo: 400, resolution: 0.1 }] },
    },
  },
  pipe_clamp_thermometer: {
    name: 'pipe clamp thermometer',
    how: 'by clamp on the pipe',
    measures: {
      temperature: { percentOfReading: 0, counts: 13, ranges: [{ upTo: 400, resolution: 0.1 }] },
    },
  },
  psychrometer: {
    name: 'psychrometer',
    how: 'by psychrometer',
    measures: {
      temperature: { percentOfReading: 0, counts: 10, ranges: [{ upTo: 200, resolution: 0.1 }] },
      wet_bulb_temperature: {
        percentOfReading: 0,
        counts: 10,
        ranges: [{ upTo: 200, resolution: 0.1 }],
      },
      relative_humidity: {
        percentOfReading: 0,
        counts: 30,
        ranges: [{ upTo: 100, resolution: 0.1 }],
      },
    },
  },
  digital_gauge: {
    name: 'digital pressure gauge',
    how: 'by digital gauge',
    measures: {
      gauge_pressure: {
        percentOfReading: 0.5,
        counts: 5,
        ranges: [{ upTo: 800, resolution: 0.1 }],
      },
    },
  },
  // A needle is read to half a mark; the marks of the high side are wider.
  dial_gauge: {
    name: 'dial pressure gauge',
    how: 'by dial gauge',
    measures: {
      gauge_pressure: {
        percentOfReading: 1,
        counts: 1,
        ranges: [
          { upTo: 150, resolution: 1 },
          { upTo: 800, resolution: 2.5 },
        ],
      },
    },
  },
  manometer: {
    name: 'manometer',
    how: 'by manometer',
    measures: {
      static_pressure: { percentOfReading: 1, counts: 1, ranges: [{ upTo: 30, resolution: 0.01 }] },
    },
  },
  vacuum_gauge: {
    name: 'vacuum gauge',
    how: 'by vacuum gauge',
    measures: {
      vacuum: { percentOfReading: 10, counts: 10, ranges: [{ upTo: 25_000, resolution: 1 }] },
    },
  },
  flow_hood: {
    name: 'flow hood',
    how: 'by flow hood',
    measures: {
      airflow: { percentOfReading: 3, counts: 7, ranges: [{ upTo: 5_000, resolution: 1 }] },
    },
  },
  refrigerant_scale: {
    name: 'refrigerant scale',
    how: 'by scale',
    measures: {
      mass: { percentOfReading: 0.5, counts: 2, ranges: [{ upTo: 4_000, resolution: 0.1 }] },
    },
  },
  tape_measure: {
    name: 'tape measure',
    how: 'by tape measure',
    measures: {
      length: { percentOfReading: 1, counts: 1, ranges: [{ upTo: 500, resolution: 0.5 }] },
    },
  },
  // A figure printed on a part is exact: it says what the part is, not how it fares.
  marking: {
    name: 'marking on the part',
    how: 'as marked on it',
    measures: {
      current: { percentOfReading: 0, counts: 0, ranges: [{ upTo: 1_000, resolution: 1 }] },
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
