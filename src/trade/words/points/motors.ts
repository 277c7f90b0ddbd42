import { lineVolts, type PointWords, range, windingOhms } from './point.ts';

const capacitorVolts = range(0, 600, 200, 480);
const poleVolts = range(0, 600, 0.01, 5);
const toGroundOhms = range(0, 1e10, 1_000, 1e9);

/** Contactor, capacitors, compressor and fans. Ranges: common practice, no source. */
export const motorPoints = {
  contactor_pole_1: {
    name: 'first pole of the contactor',
    on: 'outdoor',
    scope: 'machine',
    ranges: { voltage: poleVolts },
  },
  contactor_pole_2: {
    name: 'second pole of the contactor',
    on: 'outdoor',
    scope: 'machine',
    ranges: { voltage: poleVolts },
  },
  contactor_pole_3: {
    name: 'third pole of the contactor',
    on: 'outdoor',
    scope: 'machine',
    ranges: { voltage: poleVolts },
  },
  contactor_coil: {
    name: 'coil of the contactor',
    on: 'outdoor',
    scope: 'machine',
    ranges: {
      // Coils of 120 V and 240 V exist beside the usual 24 V.
      voltage: range(0, 300, 18, 30),
      resistance: range(0, 2_000, 5, 100),
    },
  },
  capacitor_herm: {
    name: 'compressor section of the run capacitor',
    on: 'outdoor',
    scope: 'machine',
    ranges: {
      capacitance: range(0, 150, 15, 100),
      current: range(0, 40, 1, 20),
      voltage: capacitorVolts,
    },
  },
  capacitor_fan: {
    name: 'fan section of the run capacitor',
    on: 'outdoor',
    scope: 'machine',
    ranges: {
      capacitance: range(0, 60, 2, 30),
      current: range(0, 10, 0.2, 5),
      voltage: capacitorVolts,
    },
  },
  capacitor_blower: {
    name: 'run capacitor of the blower',
    on: 'indoor',
    scope: 'machine',
    ranges: {
      capacitance: range(0, 60, 2, 30),
      current: range(0, 10, 0.2, 5),
      voltage: capacitorVolts,
    },
  },
  start_capacitor: {
    name: 'start capacitor',
    on: 'outdoor',
    scope: 'machine',
    ranges: { capacitance: range(0, 500, 40, 350), current: range(0, 60, 0.1, 30) },
  },
  compressor_common: {
    name: 'common lead of the compressor',
    on: 'outdoor',
    scope: 'machine',
    ranges: { current: range(0, 300, 2, 150) },
  },
  compressor_c_to_r: {
    name: 'compressor winding, common to run',
    on: 'outdoor',
    scope: 'machine',
    ranges: { resistance: windingOhms },
  },
  compressor_c_to_s: {
    name: 'compressor winding, common to start',
    on: 'outdoor',
    scope: 'machine',
    ranges: { resistance: windingOhms },
  },
  compressor_r_to_s: {
    name: 'compressor windings, run to start',
    on: 'outdoor',
    scope: 'machine',
    ranges: { resistance: windingOhms },
  },
  compressor_to_ground: {
    name: 'compressor terminals to ground, leads off',
    on: 'outdoor',
    scope: 'machine',
    ranges: { resistance: toGroundOhms },
  },
  compressor_shell: {
    name: 'shell of the compressor',
    on: 'outdoor',
    scope: 'machine',
    ranges: { temperature: range(-20, 350, 60, 230) },
  },
  outdoor_fan_lead: {
    name: 'lead of the outdoor fan motor',
    on: 'outdoor',
    scope: 'machine',
    ranges: { current: range(0, 20, 0.2, 5) },
  },
  outdoor_fan_supply: {
    name: 'supply of the outdoor fan motor',
    on: 'outdoor',
    scope: 'machine',
    ranges: { voltage: lineVolts },
  },
  outdoor_fan_winding: {
    name: 'winding of the outdoor fan motor',
    on: 'outdoor',
    scope: 'machine',
    ranges: { resistance: windingOhms },
  },
  blower_lead: {
    name: 'lead of the blower motor',
    on: 'indoor',
    scope: 'machine',
    ranges: { current: range(0, 40, 0.3, 12) },
  },
  blower_supply: {
    name: 'supply of the blower motor',
    on: 'indoor',
    scope: 'machine',
    ranges: { voltage: lineVolts },
  },
  blower_winding: {
    name: 'winding of the blower motor',
    on: 'indoor',
    scope: 'machine',
    ranges: { resistance: windingOhms },
  },
} as const satisfies Record<string, PointWords>;
