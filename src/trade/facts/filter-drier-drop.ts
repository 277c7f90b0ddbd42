import { combineInQuadrature } from '../uncertainty/combine-in-quadrature.ts';
import { type Measured, measuredFrom, readingsAt, type Settled, settle } from './measured.ts';
import { nearestInTime, pairGapMinutesMax } from './nearest-in-time.ts';
import { remembered } from './remembered-for.ts';

/** What a sound filter drier takes at most from the liquid line, F; common practice, no source. */
export const filterDrierDropDegFMax = 3;

/** How much colder the liquid line is after the filter drier than before it, F. */
export const filterDrierDropOf = remembered((facts): Settled => {
  const before = readingsAt(facts, 'filter_drier_in', 'temperature');
  const after = readingsAt(facts, 'filter_drier_out', 'temperature');
  const readingIds = [...before, ...after].map(({ id }) => id);
  if (readingIds.length === 0) return { kind: 'none' };
  const drops = after.flatMap((out): Measured[] => {
    const into = nearestInTime(out, before);
    return into === undefined ? [] : [dropBetween(measuredFrom(into), measuredFrom(out))];
  });
  if (drops.length > 0) return settle(drops);
  const why = `Measure the liquid line before and after the filter drier within ${pairGapMinutesMax} minutes.`;
  return { kind: 'unusable', why, readingIds };
});

function dropBetween(into: Measured, out: Measured): Measured {
  return {
    ...out,
    value: into.value - out.value,
    uncertainty: combineInQuadrature(into.uncertainty, out.uncertainty),
    readingIds: [...into.readingIds, ...out.readingIds],
  };
}
