import type { Machine } from '../evidence.ts';
import { type FaultCode, faultCodeSchema, faults } from '../faults/catalog.ts';
import { type Way, waysOf, waysOn } from './likelihood.ts';
import type { Priors } from './priors.ts';
import type { Side, Sides } from './sides.ts';

/**
 * A fault on one machine in one of the ways it can look, or something the catalog does not know. All
 * the ways of one fault on one machine have the same `seat`, a number that no other has.
 */
export type Suspect =
  | { fault: FaultCode; way: number; machine: Machine; side: Side; seat: number; prior: number }
  | { fault: 'something_else'; seat: number; prior: number };

/**
 * Every fault that can be on this system, where it would sit, and how common it is before anybody
 * looked. On each side a fault sits on the machine whose kind its list names first: with a furnace
 * and a coil the drain is the coil's. The seats count up from zero.
 */
export function suspectsOf(sides: Sides, priors: Priors): Suspect[] {
  const places = placesIn(sides);
  const suspects: Suspect[] = [];
  let seatCount = 0;
  for (const fault of faultCodeSchema.options) {
    const seats = seatsOf(fault, places);
    const waysAt = ({ side }: Seat) => (sides.isOneMachine ? waysOf(fault) : waysOn(fault, side));
    const sum = seats.reduce((total, seat) => waysAt(seat).reduce(addShare, total), 0);
    for (const seat of seats) {
      const { machine, side } = seat;
      for (const { number: way, scene } of waysAt(seat)) {
        const prior = priors.shares[fault] * (scene.share / sum);
        suspects.push({ fault, way, machine, side, seat: seatCount, prior });
      }
      seatCount += 1;
    }
  }
  return [
    ...normalizedTo(1 - priors.somethingElse, suspects),
    { fault: 'something_else', seat: seatCount, prior: priors.somethingElse },
  ];
}

/** What cannot be on this system leaves its share to what can. */
function normalizedTo(total: number, suspects: readonly Suspect[]): Suspect[] {
  const sum = suspects.reduce((before, { prior }) => before + prior, 0);
  return suspects.map((each) => ({ ...each, prior: (each.prior * total) / sum }));
}

type Place = { side: Side; machines: readonly Machine[] };
type Seat = { side: Side; machine: Machine };

function placesIn({ outdoor, indoor, isOneMachine }: Sides): Place[] {
  return isOneMachine
    ? [{ side: 'outdoor', machines: [...new Set([...outdoor, ...indoor])] }]
    : [
        { side: 'outdoor', machines: outdoor },
        { side: 'indoor', machines: indoor },
      ];
}

function seatsOf(fault: FaultCode, places: readonly Place[]): Seat[] {
  const { kinds, rules } = faults[fault];
  const seats: Seat[] = [];
  for (const { side, machines } of places) {
    const kind = kinds.find((each) => machines.some((machine) => machine.kind === each));
    for (const machine of machines) {
      const isFit = machine.kind === kind && rules.unfit?.(machine.nameplate) === undefined;
      if (isFit) seats.push({ side, machine });
    }
  }
  return seats;
}

function addShare(total: number, { scene }: Way): number {
  return total + scene.share;
}
