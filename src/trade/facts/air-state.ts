import { totalExternalStaticInH2O } from '../air/external-static.ts';
import {
  targetSplitDoubtDegF,
  targetTemperatureSplitDegF,
} from '../air/target-temperature-split.ts';
import { temperatureSplit } from '../air/temperature-split.ts';
import type { Reading } from '../evidence.ts';
import { combineInQuadrature } from '../uncertainty/combine-in-quadrature.ts';
import { readingUncertainty } from '../uncertainty/reading-uncertainty.ts';
import type { Facts } from './admit-evidence.ts';
import { type Measured, readingsAt, type Settled, settle } from './measured.ts';
import { nearestInTime, pairGapMinutesMax } from './nearest-in-time.ts';
import { remembered } from './remembered-for.ts';

/** Return less supply dry bulb, F: what the air loses on its way through the machine. */
export const splitOf = remembered((facts): Settled => {
  const { returns, supplies, readingIds } = readSplit(facts);
  if (readingIds.length === 0) return { kind: 'none' };
  const pairs = supplies.flatMap((supply) => {
    const back = nearestInTime(supply, returns);
    return back === undefined ? [] : [{ supply, back }];
  });
  if (pairs.length === 0) return { kind: 'unusable', why: measureTogether, readingIds };
  return settle(
    pairs.map(({ supply, back }): Measured => {
      const split = temperatureSplit(figureOf(back), figureOf(supply));
      return degreesOf(split.degF, split.uncertaintyDegF, [back, supply]);
    }),
  );
});

/**
 * The split less the split that this return air should show, F: above zero the air cools too much
 * (too little of it passes), below zero too little. Beyond the doubts of the thermometers it has
 * that of the table between its points. No figure where the table does not reach.
 */
export const splitAgainstTargetOf = remembered((facts): Settled => {
  const { returns, supplies, wetBulbs, readingIds } = readSplit(facts);
  if (readingIds.length === 0) return { kind: 'none' };
  if (wetBulbs.length === 0) {
    return { kind: 'unusable', why: 'Measure the wet bulb of the return air too.', readingIds };
  }
  const trios = supplies.flatMap((supply) => {
    const back = nearestInTime(supply, returns);
    const wetBulb = nearestInTime(supply, wetBulbs);
    return back === undefined || wetBulb === undefined ? [] : [{ supply, back, wetBulb }];
  });
  if (trios.length === 0) return { kind: 'unusable', why: measureTogether, readingIds };
  const measured = trios.flatMap(deviationOf);
  if (measured.length > 0) return settle(measured);
  const why =
    'No target split is published for this return air, which must be of 70 to 80 F and usual humidity.';
  return { kind: 'unusable', why, readingIds };
});

/** What the blower works against, inches of water: the return's suction and the supply's pressure. */
export const externalStaticOf = remembered((facts): Settled => {
  const before = readingsAt(facts, 'return_static', 'static_pressure');
  const after = readingsAt(facts, 'supply_static', 'static_pressure');
  const readingIds = [...before, ...after].map(({ id }) => id);
  if (readingIds.length === 0) return { kind: 'none' };
  const totals = after.flatMap((supply): Measured[] => {
    const back = nearestInTime(supply, before);
    if (back === undefined) return [];
    return [
      {
        value: totalExternalStaticInH2O(back.value, supply.value),
        uncertainty: combineInQuadrature(readingUncertainty(back), readingUncertainty(supply)),
        unit: "[in_i'H2O]",
        how: 'before and after the blower',
        readingIds: [back.id, supply.id],
      },
    ];
  });
  if (totals.length > 0) return settle(totals);
  const why = `Measure the static pressure before and after the blower within ${pairGapMinutesMax} minutes.`;
  return { kind: 'unusable', why, readingIds };
});

const measureTogether = `Measure return and supply air within ${pairGapMinutesMax} minutes of each other.`;

type SplitReadings = {
  returns: readonly Reading[];
  supplies: readonly Reading[];
  wetBulbs: readonly Reading[];
  /** Of the split itself: a wet bulb alone says nothing of it. */
  readingIds: readonly string[];
};

function readSplit(facts: Facts): SplitReadings {
  const returns = readingsAt(facts, 'return_air', 'temperature');
  const supplies = readingsAt(facts, 'supply_air', 'temperature');
  const wetBulbs = readingsAt(facts, 'return_air', 'wet_bulb_temperature');
  return { returns, supplies, wetBulbs, readingIds: [...returns, ...supplies].map(({ id }) => id) };
}

function deviationOf(trio: { back: Reading; supply: Reading; wetBulb: Reading }): Measured[] {
  const { back, supply, wetBulb } = trio;
  const deviation = (returnDegF: number, wetBulbDegF: number) => {
    const target = targetTemperatureSplitDegF(returnDegF, wetBulbDegF);
    return target === undefined ? undefined : returnDegF - supply.value - target;
  };
  const here = deviation(back.value, wetBulb.value);
  if (here === undefined) return [];
  const doubt = combineInQuadrature(
    doubtOf(back, here, (degF) => deviation(degF, wetBulb.value)),
    doubtOf(wetBulb, here, (degF) => deviation(back.value, degF)),
    readingUncertainty(supply),
  );
  return [degreesOf(here, doubt + targetSplitDoubtDegF, [back, wetBulb, supply])];
}

/**
 * How far a figure moves when one reading is off by its uncertainty, the worse of both ways. Where
 * the table ends one way, the other way tells; it is never so narrow that it ends both ways.
 */
function doubtOf(
  reading: Reading,
  here: number,
  figure: (degF: number) => number | undefined,
): number {
  const doubt = readingUncertainty(reading);
  const moves = [-doubt, doubt].map((shift) =>
    Math.abs((figure(reading.value + shift) ?? here) - here),
  );
  return Math.max(...moves);
}

function figureOf(reading: Reading): { degF: number; uncertaintyDegF: number } {
  return { degF: reading.value, uncertaintyDegF: readingUncertainty(reading) };
}

function degreesOf(value: number, uncertainty: number, readings: readonly Reading[]): Measured {
  const readingIds = readings.map(({ id }) => id);
  return { value, uncertainty, unit: '[degF]', how: 'by thermometer in the air', readingIds };
}
