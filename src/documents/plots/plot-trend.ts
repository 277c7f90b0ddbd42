import type { MeasureText, PlainInk } from '../page-plan.ts';
import { COLOR, PAGE } from '../paper-style.ts';
import { axisWords, type Frame, footInks, levelInks, lineInk, markInk, pathInks } from './frame.ts';
import { percent } from './percent.ts';
import type { Plot } from './plot.ts';
import { shareTicks } from './ticks.ts';

/** A share month by month, each with the range in which the true one lies. */
export interface TrendData {
  readonly title: string;
  readonly measure: string;
  /** What is counted: `jobs`. */
  readonly trials: string;
  readonly months: readonly TrendMonth[];
}

export interface TrendMonth {
  /** `2026-07`. */
  readonly month: string;
  readonly count: number;
  readonly trials: number;
  /** Nineteen times of twenty; null of a month without trials. */
  readonly interval: readonly [number, number] | null;
}

/** A line through the shares of the months, and a bar at each as long as its range; a month without trials is a gap. */
export function plotTrend(data: TrendData, measure: MeasureText): Plot {
  const frame: Frame = {
    ...{ leftPt: 34, rightPt: PAGE.contentWidthPt - 6, topPt: 26, bottomPt: HEIGHT_PT - 30 },
  };
  const known = data.months.flatMap(({ interval }) => interval ?? []);
  const ticks = shareTicks(Math.min(...known, 1), Math.max(...known, 0));
  const [least] = ticks;
  const reach = (ticks.at(-1) ?? 1) - least;
  const toY = (share: number) =>
    frame.bottomPt - ((frame.bottomPt - frame.topPt) * (share - least)) / reach;
  const widthPt = (frame.rightPt - frame.leftPt) / Math.max(1, data.months.length);
  const toX = (index: number) => frame.leftPt + (index + 0.5) * widthPt;
  return {
    title: data.title,
    description: descriptionOf(data),
    widthPt: PAGE.contentWidthPt,
    heightPt: HEIGHT_PT,
    inks: [
      ...levelInks(
        frame,
        ticks.map((share) => ({ atPt: toY(share), text: percent(share) })),
        measure,
      ),
      ...footInks(frame, monthTicks(data.months, toX, widthPt), measure),
      ...axisWords(frame, { up: data.measure, along: 'Month' }, measure),
      ...stretchesOf(data.months).flatMap((stretch) =>
        pathInks(
          stretch.map(({ index, share }): [number, number] => [toX(index), toY(share)]),
          COLOR.accent,
          1.4,
        ),
      ),
      ...data.months.flatMap((month, index) => monthInks(month, toX(index), toY)),
    ],
    table: {
      columns: ['Month', data.trials, data.measure, 'Share', 'From', 'To'],
      rows: data.months.map(({ month, count, trials, interval }) => [
        month,
        String(trials),
        String(count),
        interval === null ? '' : percent(count / trials),
        interval === null ? '' : percent(interval[0]),
        interval === null ? '' : percent(interval[1]),
      ]),
    },
  };
}

/** Three stand on a page, each with its heading. */
const HEIGHT_PT = 172;
const TICK_ROOM_PT = 40;

/** As many months are named as have room. */
function monthTicks(
  months: readonly TrendMonth[],
  toX: (index: number) => number,
  widthPt: number,
) {
  const every = Math.max(1, Math.ceil(TICK_ROOM_PT / widthPt));
  return months.flatMap(({ month }, index) =>
    index % every === 0 ? [{ atPt: toX(index), text: month }] : [],
  );
}

function monthInks(
  { count, trials, interval }: TrendMonth,
  x: number,
  toY: (share: number) => number,
): PlainInk[] {
  if (interval === null) return [];
  const [low, high] = interval;
  return [
    lineInk([x, toY(low)], [x, toY(high)], COLOR.soft, 0.8),
    markInk([x, toY(count / trials)], false),
  ];
}

interface Spot {
  index: number;
  share: number;
}

/** Months in a row that have trials: the line is not drawn across a gap. */
function stretchesOf(months: readonly TrendMonth[]): Spot[][] {
  const stretches: Spot[][] = [[]];
  for (const [index, { count, trials }] of months.entries()) {
    if (trials === 0) stretches.push([]);
    else stretches.at(-1)?.push({ index, share: count / trials });
  }
  return stretches.filter((stretch) => stretch.length > 0);
}

function descriptionOf({ measure, months }: TrendData): string {
  const known = months.filter(({ trials }) => trials > 0);
  const [first] = known;
  const last = known.at(-1);
  if (first === undefined || last === undefined) return `${measure} month by month: nothing yet.`;
  const told = ({ month, count, trials }: TrendMonth) => `${percent(count / trials)} in ${month}`;
  return first === last
    ? `${measure}: ${told(first)}.`
    : `${measure} month by month: ${told(first)}, ${told(last)}, each with the range in which the true share lies.`;
}
