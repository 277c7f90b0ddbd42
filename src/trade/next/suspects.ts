import type { Machine } from '../evidence.ts';
import { type FaultCode, faultCodeSchema, faults } from '../faults/catalog.ts';
import { scenesOf } from './likelihood.ts';
import type { Priors } from './priors.ts';
import { type Side, type Sides, sidesOf } from './sides.ts';

/** A fault on one machine in one of the ways it can look, or something the catalog does not know. */
export type Suspect =
  | { fault: FaultCode; scene: number; machine: Machine; side: Side; prior: number }
  | { fault: 'something_else'; prior: number };

/**
 * Every fault that can be on this system, where it would sit, and how common it is before anybody
 * looked. On each side a fault sits on the machine whose kind its list names first: with a furnace
 * and a coil the drain is the coil's.
 */
export function suspectsOf(machines: readonly Machine[], priors: Priors): Suspect[] {
  const sides = sidesOf(machines);
  const placed = faultCodeSchema.options.flatMap((fault) =>
    waysOf(fault, sides).map(
      ({ share, ...way }): Suspect => ({
        ...way,
        fault,
        prior: priors.shares[fault] * share,
      }),
    ),
  );
  return [...placed, { fault: 'something_else', prior: priors.somethingElse }];
}

type Seat = { machine: Machine; side: Side };

/** Every seat and scene of a fault in this system, with shares that add up to one. */
function waysOf(fault: FaultCode, sides: Sides): (Seat & { scene: number; share: number })[] {
  const ways = seatsOf(fault, sides).flatMap((seat) =>
    scenesOf(fault).flatMap(({ share, on }, scene) =>
      on === undefined || on === seat.side || sides.isOneMachine ? [{ ...seat, scene, share }] : [],
    ),
  );
  const sum = ways.reduce((total, { share }) => total + share, 0);
  return ways.map((way) => ({ ...way, share: way.share / sum }));
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
