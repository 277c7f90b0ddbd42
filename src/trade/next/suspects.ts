import type { Machine } from '../evidence.ts';
import { type FaultCode, faultCodeSchema, faults } from '../faults/catalog.ts';
import type { Priors } from './priors.ts';
import { type Side, type Sides, sidesOf } from './sides.ts';

/** A fault on one machine, or something the catalog does not know. */
export type Suspect =
  | { fault: FaultCode; machine: Machine; side: Side; prior: number }
  | { fault: 'something_else'; prior: number };

/**
 * Every fault that can be on this system, where it would sit, and how common it is before anybody
 * looked. On each side a fault sits on the machine whose kind its list names first: with a furnace
 * and a coil the drain is the coil's.
 */
export function suspectsOf(machines: readonly Machine[], priors: Priors): Suspect[] {
  const sides = sidesOf(machines);
  const placed = faultCodeSchema.options.flatMap((fault) => {
    const seats = seatsOf(fault, sides);
    return seats.map(
      (seat): Suspect => ({
        ...seat,
        fault,
        prior: priors.shares[fault] / seats.length,
      }),
    );
  });
  return [...placed, { fault: 'something_else', prior: priors.somethingElse }];
}

function seatsOf(fault: FaultCode, sides: Sides): { machine: Machine; side: Side }[] {
  const { kinds, rules } = faults[fault];
  const places = sides.isOneMachine
    ? [{ side: 'outdoor' as const, machines: [...new Set([...sides.outdoor, ...sides.indoor])] }]
    : (['outdoor', 'indoor'] as const).map((side) => ({ side, machines: sides[side] }));
  return places.flatMap(({ side, machines }) => {
    const kind = kinds.find((each) => machines.some((machine) => machine.kind === each));
    return machines
      .filter((machine) => machine.kind === kind)
      .filter((machine) => rules.unfit?.(machine.nameplate) === undefined)
      .map((machine) => ({ machine, side }));
  });
}
