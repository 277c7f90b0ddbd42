import type { Reading } from '../evidence.ts';
import { combineInQuadrature } from '../uncertainty/combine-in-quadrature.ts';
import { readingUncertainty } from '../uncertainty/reading-uncertainty.ts';
import { methodWords } from '../words/methods.ts';
import type { PointCode } from '../words/points.ts';
import { printedUnit, type Quantity, type Unit } from '../words/quantities.ts';
import type { Facts } from './admit-evidence.ts';
import { remembered } from './remembered-for.ts';

/** One figure with how far it can be trusted, in its unit. */
export type Measured = {
  value: number;
  uncertainty: number;
  unit: Unit;
  /** How it was measured, to follow the value in a sentence. */
  how: string;
  readingIds: readonly string[];
};

/** What all the readings of one thing come to. */
export type Settled =
  | { kind: 'none' }
  /** Something was read, but it gives no figure to judge. */
  | { kind: 'unusable'; why: string; readingIds: readonly string[] }
  | { kind: 'disagree'; why: string; readingIds: readonly string[] }
  | { kind: 'settled'; measured: Measured; doubts: readonly string[] };

/** The settled value of one quantity at one point. */
export function measuredAt(facts: Facts, point: PointCode, quantity: Quantity): Settled {
  return placesOf(facts).get(point)?.get(quantity)?.settled ?? notMeasured;
}

const notMeasured: Settled = { kind: 'none' };

/** All readings of one quantity at one point, in order of time. */
export function readingsAt(facts: Facts, point: PointCode, quantity: Quantity): readonly Reading[] {
  return placesOf(facts).get(point)?.get(quantity)?.readings ?? [];
}

type Place = { readings: readonly Reading[]; settled: Settled };

/** What was read, by point and quantity. */
const placesOf = remembered((facts): ReadonlyMap<PointCode, ReadonlyMap<Quantity, Place>> => {
  const places = new Map<PointCode, Map<Quantity, Place>>();
  for (const { point, quantity } of facts.readings) {
    const place = places.get(point) ?? new Map<Quantity, Place>();
    if (place.has(quantity)) continue;
    const readings = facts.readings.filter(
      (each) => each.point === point && each.quantity === quantity,
    );
    place.set(quantity, { readings, settled: settle(readings.map(measuredFrom)) });
    places.set(point, place);
  }
  return places;
});

export function measuredFrom(reading: Reading): Measured {
  return {
    value: reading.value,
    uncertainty: readingUncertainty(reading),
    unit: reading.unit,
    how: methodWords[reading.method].how,
    readingIds: [reading.id],
  };
}

/**
 * Judges repeated measurements, given in order of time: the latest counts if the one before it
 * agrees within both uncertainties, or if there is no other, or if voltage came or went between the
 * two. Otherwise they disagree, and one more measurement settles it. Earlier ones that the latest
 * contradicts are named as doubts.
 */
export function settle(inOrder: readonly Measured[]): Settled {
  const latest = inOrder.at(-1);
  const previous = inOrder.at(-2);
  if (latest === undefined) return { kind: 'none' };
  if (previous !== undefined && disagree(previous, latest)) {
    const why = `${show(previous)}, then ${show(latest)}: the two disagree, measure again.`;
    return { kind: 'disagree', why, readingIds: [...previous.readingIds, ...latest.readingIds] };
  }
  const doubts = inOrder
    .filter((each) => contradict(each, latest))
    .map((each) =>
      isSwitched(each, latest)
        ? `Earlier it was otherwise: ${show(each)}.`
        : `An earlier reading disagrees: ${show(each)}.`,
    );
  return { kind: 'settled', measured: latest, doubts };
}

function disagree(previous: Measured, latest: Measured): boolean {
  return contradict(previous, latest) && !isSwitched(previous, latest);
}

/** Below this no voltage is there, but for what strays into an open wire. Common practice, no source. */
const absentVoltsMax = 20;

/** A supply that sags leaves far more than a fifth: so large a step is a switch. First principles. */
const switchedRatioMin = 5;

/** That voltage came or went between two measurements: both are right, each of its own minute. */
function isSwitched(a: Measured, b: Measured): boolean {
  const [less, more] = a.value < b.value ? [a, b] : [b, a];
  return (
    less.unit === 'V' &&
    less.value + less.uncertainty < absentVoltsMax &&
    more.value - more.uncertainty > absentVoltsMax &&
    more.value > switchedRatioMin * less.value
  );
}

/** Two measurements contradict when they lie further apart than their joint uncertainty. */
export function contradict(a: Measured, b: Measured): boolean {
  return Math.abs(a.value - b.value) > combineInQuadrature(a.uncertainty, b.uncertainty);
}

/** "45.04 uF measured under load" */
export function show(measured: Measured): string {
  const before = shown.get(measured);
  if (before !== undefined) return before;
  const now = `${showValue(measured.value, measured.unit)} measured ${measured.how}`;
  shown.set(measured, now);
  return now;
}

// Dozens of sentences tell the same figure, and rounding it for print is slow.
const shown = new WeakMap<Measured, string>();

/** A value as people write it: as many decimals as a service meter shows of it. */
export function showValue(value: number, unit: Unit): string {
  return `${value.toFixed(decimalsShown(value, unit))} ${printedUnit[unit]}`;
}

function decimalsShown(value: number, unit: Unit): number {
  const size = Math.abs(value);
  switch (unit) {
    case 'V':
      return size >= 60 ? 1 : size >= 1 ? 2 : 3;
    case '[degF]':
    case '[psi]':
    case '[oz_av]':
    case '[ft_i]':
    case '%':
      return 1;
    case 'um[Hg]':
    case '[cft_i]/min':
      return 0;
    case 'Ohm':
      return size >= 1_000 ? 0 : 2;
    case 'A':
    case 'uF':
    case "[in_i'H2O]":
      return 2;
  }
}
