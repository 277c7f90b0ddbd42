import type { PointQuantity } from '../../src/trade/index.ts';
import type { SheetChange } from './change-sheet.ts';
import { airDegF, pipeDegF, psig, volts, wetBulbDegF } from './measured-by.ts';
import type { MachineId } from './visit-sheet.ts';

/** Where the sides of a system stand, and what its circuit shows once it has come to rest. */
export type SystemSides = {
  outdoor: MachineId;
  indoor: MachineId;
  /** Where the valve and its bulb are noted. */
  coil: MachineId;
  restPsig: number;
  restLineDegF: number;
  houseDegF: number;
};

export const splitFurnaceSides: SystemSides = {
  outdoor: 'outdoor',
  indoor: 'furnace',
  coil: 'coil',
  restPsig: 256.8,
  restLineDegF: 90.3,
  houseDegF: 82.7,
};

export const splitAirHandlerSides: SystemSides = {
  outdoor: 'outdoor',
  indoor: 'air_handler',
  coil: 'air_handler',
  restPsig: 254.6,
  restLineDegF: 88.9,
  houseDegF: 81.4,
};

export const oldSplitSides: SystemSides = {
  outdoor: 'outdoor',
  indoor: 'furnace',
  coil: 'furnace',
  restPsig: 163.4,
  restLineDegF: 92.1,
  houseDegF: 84.2,
};

export const heatPumpSides: SystemSides = {
  outdoor: 'outdoor',
  indoor: 'air_handler',
  coil: 'air_handler',
  restPsig: 246.3,
  restLineDegF: 89.6,
  houseDegF: 81.9,
};

export const packageUnitSides: SystemSides = {
  outdoor: 'package',
  indoor: 'package',
  coil: 'package',
  restPsig: 284.9,
  restLineDegF: 96.7,
  houseDegF: 85.3,
};

const compressorRuns: readonly PointQuantity[] = [
  'capacitor_herm.current',
  'capacitor_herm.voltage',
  'compressor_common.current',
  'filter_drier_in.temperature',
  'filter_drier_out.temperature',
  'reversing_valve_suction_in.temperature',
  'reversing_valve_suction_out.temperature',
];

/** The outdoor fan turns, the compressor does not: pressures meet and the split is gone. */
export function compressorStill(sides: SystemSides): SheetChange {
  const { outdoor, indoor, coil, restPsig, restLineDegF, houseDegF } = sides;
  const stillOutdoors = {
    seen: { compressor_running: 'no', contactor_by_hand_both_start: 'no' },
    read: {
      'suction_port.gauge_pressure': psig(restPsig),
      'liquid_port.gauge_pressure': psig(restPsig + 0.7),
      'suction_line.temperature': pipeDegF(restLineDegF),
      'liquid_line.temperature': pipeDegF(restLineDegF + 1.6),
    },
    without: [
      ...compressorRuns,
      'compressor_starts_with_test_start_device',
      'outdoor_coil_cleared_pressure_fell',
      'pressures_hunt',
      'breaker_holds_under_load',
      'breaker.voltage',
    ],
  } as const;
  const stillIndoors = {
    read: {
      'return_air.temperature': airDegF(houseDegF),
      'return_air.wet_bulb_temperature': wetBulbDegF(houseDegF - 13.6),
      'supply_air.temperature': airDegF(houseDegF + 0.4),
    },
  } as const;
  const valve = { without: ['superheat_follows_bulb'] } as const;
  return {
    house: { thermostat_starts_when_set: 'no', thermostat_jumper_starts_cooling: 'no' },
    machines: joined([outdoor, stillOutdoors], [indoor, stillIndoors], [coil, valve]),
  };
}

/** The contactor is open: neither compressor nor fan runs. The blower still turns. */
export function outdoorStill(sides: SystemSides): SheetChange {
  const still = compressorStill(sides);
  const open = {
    seen: {
      outdoor_fan_running: 'no',
      contactor_pulled_in: 'no',
      contactor_by_hand_both_start: 'yes',
    },
    read: {
      'contactor_coil.voltage': volts(0.03),
      'outdoor_cooling_call.voltage': volts(0.04),
      'outdoor_fan_supply.voltage': volts(0.4),
      'compressor_shell.temperature': pipeDegF(sides.restLineDegF + 6.2),
    },
    without: [
      'contactor_pole_1.voltage',
      'contactor_pole_2.voltage',
      'outdoor_fan_lead.current',
      'line_connection.voltage',
      'outdoor_board_out.voltage',
      'high_pressure_switch.voltage',
      'reversing_valve_coil.voltage',
      'reversing_valve_shifts',
      'defrost_starts_when_forced',
    ],
  } as const;
  return { ...still, machines: joined(...entriesOf(still), [sides.outdoor, open]) };
}

/** No line voltage at the outdoor unit; its 24 V call still arrives and pulls the contactor in. */
export function outdoorWithoutPower(sides: SystemSides): SheetChange {
  const still = outdoorStill(sides);
  const dead = {
    seen: { contactor_pulled_in: 'yes', contactor_by_hand_both_start: 'no' },
    read: {
      'line_supply.voltage': volts(0.3),
      'outdoor_fan_supply.voltage': volts(0.3),
      'outdoor_cooling_call.voltage': volts(25.9),
      'contactor_coil.voltage': volts(25.8),
    },
  } as const;
  return { ...still, machines: joined(...entriesOf(still), [sides.outdoor, dead]) };
}

/** Neither the outdoor unit nor the blower runs: the air stands, and with it all that moves it. */
export function allStill(sides: SystemSides): SheetChange {
  const still = outdoorStill(sides);
  const indoors = {
    seen: { blower_called_and_fed: 'no' },
    read: { 'board_fan_call.voltage': volts(0.02), 'blower_supply.voltage': volts(0.2) },
    without: airMoves,
  } as const;
  return {
    house: { ...still.house, indoor_fan_running: 'no' },
    houseWithout: ['blows_warm_in_cooling'],
    machines: joined(...entriesOf(still), [sides.indoor, indoors]),
  };
}

const airMoves = [
  'blower_lead.current',
  'supply_air.temperature',
  'return_static.static_pressure',
  'supply_static.static_pressure',
  'filter_drop.static_pressure',
  'indoor_coil_drop.static_pressure',
] as const;

type MachineChange = NonNullable<NonNullable<SheetChange['machines']>[MachineId]>;
type Entry = readonly [MachineId, MachineChange];

/** One change for each machine; a later one wins, and what it reads is no longer left out. */
function joined(...entries: Entry[]): Partial<Record<MachineId, MachineChange>> {
  const all: Partial<Record<MachineId, MachineChange>> = {};
  for (const [id, change] of entries) all[id] = both(all[id] ?? {}, change);
  return all;
}

function both(first: MachineChange, second: MachineChange): MachineChange {
  const gone = new Set<string>(second.without ?? []);
  const keep = <T extends object>(record: T | undefined): Partial<T> =>
    Object.fromEntries(
      Object.entries(record ?? {}).filter(([key]) => !gone.has(key)),
    ) as Partial<T>;
  return {
    seen: { ...keep(first.seen), ...second.seen },
    read: { ...keep(first.read), ...second.read },
    without: [...(first.without ?? []), ...(second.without ?? [])],
  };
}

function entriesOf(change: SheetChange): Entry[] {
  return Object.entries(change.machines ?? {}) as [MachineId, MachineChange][];
}
