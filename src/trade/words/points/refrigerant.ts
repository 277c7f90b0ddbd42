import { type PointWords, range } from './point.ts';

const lineDegF = range(-60, 300, 20, 150);

/** The refrigerant circuit. Ranges: common practice, no source. */
export const refrigerantPoints = {
  suction_port: {
    name: 'suction service port',
    on: 'outdoor',
    scope: 'system',
    ranges: { gauge_pressure: range(-14.7, 500, 20, 200) },
  },
  liquid_port: {
    name: 'liquid service port',
    on: 'outdoor',
    scope: 'system',
    ranges: { gauge_pressure: range(-14.7, 800, 80, 650) },
  },
  suction_line: {
    name: 'suction line at the outdoor unit',
    on: 'outdoor',
    scope: 'system',
    ranges: { temperature: lineDegF },
  },
  liquid_line: {
    name: 'liquid line at the outdoor unit',
    on: 'outdoor',
    scope: 'system',
    ranges: { temperature: lineDegF },
  },
  discharge_line: {
    name: 'discharge line at the compressor',
    on: 'outdoor',
    scope: 'system',
    ranges: { temperature: range(-60, 400, 80, 260) },
  },
  filter_drier_in: {
    name: 'liquid line before the filter drier',
    on: 'any',
    scope: 'system',
    ranges: { temperature: lineDegF },
  },
  filter_drier_out: {
    name: 'liquid line after the filter drier',
    on: 'any',
    scope: 'system',
    ranges: { temperature: lineDegF },
  },
  reversing_valve_suction_in: {
    name: 'reversing valve, suction from the coil',
    on: 'outdoor',
    scope: 'system',
    ranges: { temperature: lineDegF },
  },
  reversing_valve_suction_out: {
    name: 'reversing valve, suction to the compressor',
    on: 'outdoor',
    scope: 'system',
    ranges: { temperature: lineDegF },
  },
  recovered_charge: {
    name: 'refrigerant recovered from the system, weighed',
    on: 'outdoor',
    scope: 'system',
    ranges: { mass: range(0, 2_000, 20, 400) },
  },
  line_set: {
    name: 'line set, one way',
    on: 'any',
    scope: 'system',
    ranges: { length: range(0, 400, 5, 150) },
  },
  evacuated_system: {
    name: 'evacuated system, pump shut off',
    on: 'any',
    scope: 'system',
    ranges: { vacuum: range(0, 25_000, 50, 5_000) },
  },
} as const satisfies Record<string, PointWords>;
