import type {
  EquipmentKind,
  Machine,
  MethodCode,
  ObservationCode,
  PointQuantity,
} from '../../src/trade/index.ts';

export type Seen = Partial<Record<ObservationCode, 'yes' | 'no'>>;
export type Measured = { value: number; method: MethodCode };
export type Read = Partial<Record<PointQuantity, Measured>>;

/** The names that the invented systems give their machines. */
export type MachineId = 'outdoor' | 'furnace' | 'coil' | 'air_handler' | 'package' | 'mini_split';

export type MachineSheet = {
  machine: Machine & { id: MachineId; kind: EquipmentKind };
  observations: Seen;
  readings: Read;
};

/**
 * All that would come out if every check were made before any work. What a machine does not have,
 * and what cannot be measured in the state it is in, is absent. A check that acts (reset once, push
 * in, join R to Y, warm the bulb) shows what its act shows.
 */
export type VisitSheet = { machines: MachineSheet[]; house: Seen; altitudeFt?: number };
