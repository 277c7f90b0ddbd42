import type { ObservationCode, PointQuantity } from '../../src/trade/index.ts';
import type { MachineId, MachineSheet, Read, Seen, VisitSheet } from './visit-sheet.ts';

type MachineChange = {
  seen?: Seen;
  read?: Read;
  without?: readonly (ObservationCode | PointQuantity)[];
};

/** What differs from another sheet. What is left out goes first, then what is added. */
export type SheetChange = {
  house?: Seen;
  houseWithout?: readonly ObservationCode[];
  machines?: Partial<Record<MachineId, MachineChange>>;
};

/**
 * The sheet with the changes made, one after the other; the given sheet stays as it was.
 * @throws Error when a change names a machine that the system does not have.
 */
export function changeSheet(sheet: VisitSheet, ...changes: SheetChange[]): VisitSheet {
  return changes.reduce(changeOnce, sheet);
}

function changeOnce(sheet: VisitSheet, change: SheetChange): VisitSheet {
  const known = new Set<string>(sheet.machines.map((each) => each.machine.id));
  const unknown = Object.keys(change.machines ?? {}).find((id) => !known.has(id));
  if (unknown !== undefined) throw new Error(`this system has no ${unknown}`);
  return {
    ...sheet,
    house: { ...leaveOut(sheet.house, change.houseWithout ?? []), ...change.house },
    machines: sheet.machines.map((each) => changeMachine(each, change)),
  };
}

function changeMachine(sheet: MachineSheet, change: SheetChange): MachineSheet {
  const { seen, read, without = [] } = change.machines?.[sheet.machine.id] ?? {};
  return {
    machine: sheet.machine,
    observations: { ...leaveOut(sheet.observations, without), ...seen },
    readings: { ...leaveOut(sheet.readings, without), ...read },
  };
}

function leaveOut<T extends object>(record: T, keys: readonly string[]): Partial<T> {
  const kept = Object.entries(record).filter(([key]) => !keys.includes(key));
  return Object.fromEntries(kept) as Partial<T>;
}
