import { type MeasureText, type Plot, plotPrices } from '../documents/index.ts';
import type { NameOf } from './names-of.ts';
import { endsOfStep, type PriceSpread, type WorkPrices } from './price-spread.ts';
import { byWhatIsAbove, workName } from './prices-of-period.ts';

/** As many kinds of work as a page has room for, with one row for all the others. */
const ROWS_MAX = 13;

/** What was charged beside what it may come to, as a picture. */
export function plotOfPrices({ works }: PriceSpread, nameOf: NameOf, measure: MeasureText): Plot {
  const sorted = [...works]
    .filter(([, work]) => hasPrices(work))
    .sort(([, one], [, other]) => byWhatIsAbove(one, other));
  const own = sorted.slice(0, ROWS_MAX);
  const others = sorted.slice(ROWS_MAX).map(([, work]) => work);
  const rows = own.map(([taskCode, work]) => rowOf(workName(taskCode, nameOf), work));
  if (others.length > 0) rows.push(rowOf('All other work', together(others)));
  return plotPrices({ title: 'Charged, beside the fair price', subject: 'Work', rows }, measure);
}

/** Whether there is a job to draw: of those that were put right, or not judged, none is. */
export function hasPrices({ fair, above }: WorkPrices): boolean {
  return fair.size > 0 || above.length > 0;
}

function rowOf(name: string, { lowCents, highCents, fair, above }: WorkPrices) {
  return {
    name,
    bandCents: lowCents === null || highCents === null ? null : ([lowCents, highCents] as const),
    fair: [...fair].map(([step, jobs]) => ({ ...endsOfStep(step), jobs })),
    above,
  };
}

function together(works: readonly WorkPrices[]): WorkPrices {
  const fair = new Map<number, number>();
  for (const [step, jobs] of works.flatMap((work) => [...work.fair])) {
    fair.set(step, (fair.get(step) ?? 0) + jobs);
  }
  const sum = (of: (work: WorkPrices) => number) => works.reduce((all, work) => all + of(work), 0);
  return {
    jobs: sum(({ jobs }) => jobs),
    putRight: sum(({ putRight }) => putRight),
    notJudged: sum(({ notJudged }) => notJudged),
    lowCents: farthest(
      Math.min,
      works.map(({ lowCents }) => lowCents),
    ),
    highCents: farthest(
      Math.max,
      works.map(({ highCents }) => highCents),
    ),
    fair,
    above: works.flatMap(({ above }) => above),
  };
}

function farthest(
  of: (...known: number[]) => number,
  amounts: readonly (number | null)[],
): number | null {
  const known = amounts.filter((amount) => amount !== null);
  return known.length === 0 ? null : of(...known);
}
