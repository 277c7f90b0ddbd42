import type { Reading } from '../evidence.ts';
import { targetSuperheat } from '../refrigerant/target-superheat.ts';
import { combineInQuadrature } from '../uncertainty/combine-in-quadrature.ts';
import { readingUncertainty } from '../uncertainty/reading-uncertainty.ts';
import type { Facts } from './admit-evidence.ts';
import { readingsAt, type Settled } from './measured.ts';
import { nearestInTime } from './nearest-in-time.ts';
import { superheatOf } from './refrigerant-state.ts';
import { remembered } from './remembered-for.ts';

/**
 * The superheat of a fixed-metering system less the published target of its weather, F. The doubts
 * of the wet bulb and of the outdoor air count as far as they move the target. No figure where
 * nobody has published a target or charging by superheat could slug the compressor.
 */
export const superheatAgainstTargetOf = remembered((facts): Settled => {
  const superheat = superheatOf(facts);
  if (superheat.kind !== 'settled') return superheat;
  const { measured, doubts } = superheat;
  const read = facts.readings.find(({ id }) => measured.readingIds.includes(id));
  const weather = read && weatherAt(facts, read);
  if (weather === undefined) return unusable(measured.readingIds, measureWeather);
  const { wetBulb, outdoors } = weather;
  const here = targetAt(wetBulb.value, outdoors.value);
  if (here === undefined) return unusable(measured.readingIds, noTarget);
  const uncertainty = combineInQuadrature(
    measured.uncertainty,
    doubtOf(wetBulb, here, (degF) => targetAt(degF, outdoors.value)),
    doubtOf(outdoors, here, (degF) => targetAt(wetBulb.value, degF)),
  );
  const readingIds = [...measured.readingIds, wetBulb.id, outdoors.id];
  const figure = { ...measured, value: measured.value - here, uncertainty, readingIds };
  return { kind: 'settled', measured: figure, doubts };
});

const measureWeather =
  'Measure the wet bulb of the return air and the outdoor air in the same minutes.';
const noTarget =
  'For this wet bulb and outdoor air no target superheat is published; weigh the charge.';

function unusable(readingIds: readonly string[], why: string): Settled {
  return { kind: 'unusable', why, readingIds };
}

function weatherAt(facts: Facts, reading: Reading) {
  const wetBulbs = readingsAt(facts, 'return_air', 'wet_bulb_temperature');
  const wetBulb = nearestInTime(reading, wetBulbs);
  const outdoors = nearestInTime(reading, readingsAt(facts, 'outdoor_air', 'temperature'));
  return wetBulb === undefined || outdoors === undefined ? undefined : { wetBulb, outdoors };
}

function targetAt(wetBulbDegF: number, outdoorDegF: number): number | undefined {
  const target = targetSuperheat(wetBulbDegF, outdoorDegF);
  return target.kind === 'target' ? target.degF : undefined;
}

/** How far the target moves when one reading is off; where the table ends one way, by the other. */
function doubtOf(
  reading: Reading,
  here: number,
  target: (degF: number) => number | undefined,
): number {
  const doubt = readingUncertainty(reading);
  const moves = [-doubt, doubt].map((shift) =>
    Math.abs((target(reading.value + shift) ?? here) - here),
  );
  return Math.max(...moves);
}
