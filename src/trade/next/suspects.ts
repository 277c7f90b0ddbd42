import type { Machine } from '../evidence.ts';
import { type FaultCode, faultCodeSchema, faults } from '../faults/catalog.ts';
import { waysOf } from './likelihood.ts';
import type { Priors } from './priors.ts';
import { type Side, type Sides, sidesOf } from './sides.ts';

/** A fault on one machine in one of the ways it can look, or something the catalog does not know. */
export type Suspect =
  | { fault: FaultCode; way: number; machine: Machine; side: Side; prior: number }
  | { fault: 'something_else'; prior: number };

/**
 * Every fault that can be on this system, where it would sit, and how common it is before anybody
 * looked. On each side a fault sits on the machine whose kind its list names first: with a furnace
 * and a coil the drain is the coil's.
 */
export function suspectsOf(machines: readonly Machine[], priors: Priors): Suspect[] {
  const sides = sidesOf(machines);
  const placed = faultCodeSchema.options.flatMap((fault) =>
    seatedWaysOf(fault, sides).map(
      ({ share, ...seated }): Suspect => ({
        ...seated,
        fault,
        prior: priors.shares[fault] * share,
      }),
    ),
  );
  return [...placed, { fault: 'something_else', prior: priors.somethingElse }];
}

type Seat = { machine: Machine; side: Side };

/** Every seat of a fault in this system and every way it can look there; the shares sum to one. */
function seatedWaysOf(fault: FaultCode, sides: Sides): (Seat & { way: number; share: number })[] {
  const seated = seatsOf(fault, sides).flatMap((seat) =>
    waysOf(fault)
      .filter(({ scene: { on } }) => on === undefined || on === seat.side || sides.isOneMachine)
      .map(({ number, scene: { share } }) => ({ ...seat, way: number, share })),
  );
  const sum = seated.reduce((total, { share }) => total + share, 0);
  return seated.map((each) => ({ ...each, share: each.share / sum }));
}

function seatsOf(fault: FaultCode, sides: Sides): Seat[] {
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
