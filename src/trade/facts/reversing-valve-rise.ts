import { combineInQuadrature } from '../uncertainty/combine-in-quadrature.ts';
import { type Measured, measuredFrom, readingsAt, type Settled, settle } from './measured.ts';
import { nearestInTime, pairGapMinutesMax } from './nearest-in-time.ts';
import { isObserved } from './observed.ts';
import { remembered } from './remembered-for.ts';

/** How much the suction gas warms from its way through the reversing valve, F. */
export const reversingValveRise = remembered((facts): Settled => {
  const before = readingsAt(facts, 'reversing_valve_suction_in', 'temperature');
  const after = readingsAt(facts, 'reversing_valve_suction_out', 'temperature');
  const readingIds = [...before, ...after].map(({ id }) => id);
  if (readingIds.length === 0) return { kind: 'none' };
  if (isObserved(facts, 'compressor_running', 'no')) {
    const why = 'The compressor was not running; measure the lines of the valve while it runs.';
    return { kind: 'unusable', why, readingIds };
  }
  const rises = after.flatMap((out): Measured[] => {
    const into = nearestInTime(out, before);
    return into === undefined ? [] : [riseBetween(measuredFrom(into), measuredFrom(out))];
  });
  if (rises.length > 0) return settle(rises);
  const why = `Measure the suction line before and after the valve within ${pairGapMinutesMax} minutes.`;
  return { kind: 'unusable', why, readingIds };
});

function riseBetween(into: Measured, out: Measured): Measured {
  return {
    ...out,
    value: out.value - into.value,
    uncertainty: combineInQuadrature(into.uncertainty, out.uncertainty),
    readingIds: [...into.readingIds, ...out.readingIds],
  };
}
