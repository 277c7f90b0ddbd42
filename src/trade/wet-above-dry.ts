import type { Reading } from './evidence.ts';
import { combineInQuadrature } from './uncertainty/combine-in-quadrature.ts';
import { readingUncertainty } from './uncertainty/reading-uncertainty.ts';

type Bulb = Pick<
  Reading,
  'quantity' | 'point' | 'value' | 'unit' | 'method' | 'source' | 'phase' | 'takenAt'
>;

/**
 * The wet bulbs of one system that are above the dry bulb of the same air, which evaporation rules
 * out: each beside the dry bulb taken last of those within fifteen minutes of it. In saturated air
 * the two are equal, so they must differ by more than both methods are good to.
 * @param readings of any quantity and point; of two taken at one moment the later in the list
 *   counts, as it may correct the other
 */
export function wetAboveDry<R extends Bulb>(readings: readonly R[]): { wet: R; dry: R }[] {
  const inOrder = readings.toSorted((a, b) => timeOf(a) - timeOf(b));
  return inOrder
    .filter(({ quantity }) => quantity === 'wet_bulb_temperature')
    .flatMap((wet) => {
      const dry = inOrder.findLast((each) => isDryBulbOf(wet, each));
      return dry !== undefined && isAbove(wet, dry) ? [{ wet, dry }] : [];
    });
}

const sameAirMilliseconds = 15 * 60_000;

function isDryBulbOf(wet: Bulb, other: Bulb): boolean {
  return (
    other.quantity === 'temperature' &&
    other.point === wet.point &&
    other.phase === wet.phase &&
    other.source === wet.source &&
    Math.abs(timeOf(other) - timeOf(wet)) <= sameAirMilliseconds
  );
}

function isAbove(wet: Bulb, dry: Bulb): boolean {
  const uncertainty = combineInQuadrature(readingUncertainty(wet), readingUncertainty(dry));
  return wet.value - dry.value > uncertainty;
}

function timeOf({ takenAt }: Bulb): number {
  return Date.parse(takenAt);
}
