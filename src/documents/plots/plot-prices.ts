import { fitText } from '../fit-text.ts';
import { formatCents } from '../format-cents.ts';
import type { MeasureText, PlainInk } from '../page-plan.ts';
import { COLOR, PAGE, TYPE } from '../paper-style.ts';
import { diamondInk, type Frame, footInks, lineInk, textInk } from './frame.ts';
import type { Plot } from './plot.ts';
import { priceTicks } from './price-ticks.ts';

/** What many jobs were charged for the same work, beside what it may come to. */
export interface PricesData {
  readonly title: string;
  /** What each row is: `Work`. */
  readonly subject: string;
  readonly rows: readonly PriceRow[];
}

export interface PriceRow {
  readonly name: string;
  /**
   * From the lowest that a job comes to, to the highest with the tolerance of the policy; null where
   * no job lies at a fair price.
   */
  readonly bandCents: readonly [number, number] | null;
  /** How many jobs at a fair price were charged how much: however many there are, a few steps. */
  readonly fair: readonly {
    readonly fromCents: number;
    readonly toCents: number;
    readonly jobs: number;
  }[];
  /** Each job that is above its own price. */
  readonly above: readonly { readonly chargedCents: number; readonly atMostCents: number }[];
}

/**
 * One row for each kind of work: the range of fair prices, on it a hill of the jobs that lie at one, and
 * below it a diamond at each price that is above its own job's; of few with a line from what that job
 * comes to at most. Equal distances are equal factors, so that a fee and a new machine stand in one picture.
 */
export function plotPrices(data: PricesData, measure: MeasureText): Plot {
  const rowsPt = data.rows.map(({ above }) => (above.length > 0 ? ROW_PT + LANE_PT : ROW_PT));
  const heightPt = HEAD_PT + rowsPt.reduce((sum, each) => sum + each, 0) + FOOT_PT;
  const frame: Frame = {
    leftPt: NAME_PT + 12,
    rightPt: PAGE.contentWidthPt - 14,
    topPt: HEAD_PT,
    bottomPt: heightPt - FOOT_PT,
  };
  const ticks = priceTicks(data.rows.flatMap(pricesIn));
  const toX = scaleOf(frame, ticks);
  let topPt = frame.topPt;
  const rows = data.rows.flatMap((row, index) => {
    const inks = rowInks(row, topPt, toX, measure);
    topPt += rowsPt[index] ?? 0;
    return inks;
  });
  return {
    title: data.title,
    description: descriptionOf(data),
    ...{ widthPt: PAGE.contentWidthPt, heightPt },
    inks: [
      ...LEGEND.map((text, at) => textInk(text, 0, 8 + at * 10)),
      ...ticks.map((dollars) => {
        const x = toX(100 * dollars);
        return lineInk([x, frame.topPt], [x, frame.bottomPt], COLOR.hairline, 0.6);
      }),
      ...footInks(
        frame,
        ticks.map((dollars) => ({
          atPt: toX(100 * dollars),
          text: `$${dollars.toLocaleString('en-US')}`,
        })),
        measure,
      ),
      ...rows,
    ],
    table: tableOf(data),
  };
}

const LEGEND = [
  'The pale bar is what the work comes to, from job to job, with the tolerance. The hill on it: the higher, the more jobs.',
  'A diamond is a job above its own price. Where there are few, a line begins at what the job comes to at most.',
];
const NAME_PT = 168;
const HEAD_PT = 30;
const FOOT_PT = 20;
const ROW_PT = 26;
const LANE_PT = 13;
const BAND_PT = 17;

type Scale = (cents: number) => number;

/** Every price that has to find room; what is free finds it at the edge. */
function pricesIn({ bandCents, fair, above }: PriceRow): number[] {
  const charged = above.flatMap(({ chargedCents, atMostCents }) => [chargedCents, atMostCents]);
  return [
    ...(bandCents ?? []),
    ...fair.flatMap(({ fromCents, toCents }) => [fromCents, toCents]),
    ...charged,
  ]
    .filter((cents) => cents > 0)
    .map((cents) => cents / 100);
}

function scaleOf({ leftPt, rightPt }: Frame, ticks: readonly [number, ...number[]]): Scale {
  const [least] = ticks;
  const most = ticks.at(-1) ?? least;
  const widthPt = (rightPt - leftPt) / Math.log(most / least);
  return (cents) => leftPt + widthPt * Math.log(Math.max(cents / 100, least) / least);
}

function rowInks(row: PriceRow, topPt: number, toX: Scale, measure: MeasureText): PlainInk[] {
  const floorPt = topPt + 4 + BAND_PT;
  const name = fitText(row.name, TYPE.small, NAME_PT, measure);
  return [
    textInk(name, 0, topPt + 12, TYPE.small),
    textInk(countText(row), 0, topPt + 21.5),
    ...bandInks(row, floorPt, toX),
    ...hillInks(row, floorPt, toX),
    ...aboveInks(row, floorPt, toX),
  ];
}

function bandInks({ bandCents }: PriceRow, floorPt: number, toX: Scale): PlainInk[] {
  if (bandCents === null) return [];
  const [low, high] = bandCents;
  return [
    {
      kind: 'rectangle',
      ...{ xPt: toX(low), yPt: floorPt - BAND_PT, heightPt: BAND_PT, radiusPt: 2 },
      ...{ widthPt: Math.max(toX(high) - toX(low), 1), fill: COLOR.band },
    },
  ];
}

/** The square root of the number, so that a single job is still seen beside a thousand. */
function hillInks({ fair }: PriceRow, floorPt: number, toX: Scale): PlainInk[] {
  const most = Math.max(...fair.map(({ jobs }) => jobs), 1);
  return fair.map(({ fromCents, toCents, jobs }): PlainInk => {
    const heightPt = Math.max(2, (BAND_PT - 2) * Math.sqrt(jobs / most));
    const xPt = toX(fromCents);
    const widthPt = Math.max(toX(toCents) - xPt, 1.2);
    return {
      kind: 'rectangle',
      ...{ xPt, yPt: floorPt - heightPt, widthPt, heightPt, radiusPt: 0, fill: COLOR.accent },
    };
  });
}

/** Jobs that would be drawn in the same place are drawn there once. */
function aboveInks({ above }: PriceRow, floorPt: number, toX: Scale): PlainInk[] {
  const places = new Map<string, [number, number]>();
  for (const { atMostCents, chargedCents } of above) {
    const place: [number, number] = [Math.round(toX(atMostCents)), Math.round(toX(chargedCents))];
    places.set(place.join(' '), place);
  }
  const y = floorPt + LANE_PT / 2 + 1;
  const told = places.size > LINES_MAX ? [] : [...places.values()];
  const lines = told.flatMap(([from, to]): PlainInk[] => [
    lineInk([from, y], [to, y], COLOR.soft, 0.7),
    lineInk([from, y - 3], [from, y + 3], COLOR.soft, 0.7),
  ]);
  const marks = [...new Set([...places.values()].map(([, to]) => to))];
  return [...lines, ...marks.map((x) => diamondInk([x, y], 3.8))];
}

/** Of more lines beside each other none could be told from the next. */
const LINES_MAX = 6;

function countText({ fair, above }: PriceRow): string {
  const jobs = jobsAt(fair) + above.length;
  const told = `${jobs.toLocaleString('en-US')} ${jobs === 1 ? 'job' : 'jobs'}`;
  return above.length === 0 ? told : `${told}, ${above.length.toLocaleString('en-US')} above`;
}

function jobsAt(fair: PriceRow['fair']): number {
  return fair.reduce((sum, { jobs }) => sum + jobs, 0);
}

function tooMuch({ above }: PriceRow): number {
  return above.reduce((sum, { chargedCents, atMostCents }) => sum + chargedCents - atMostCents, 0);
}

function descriptionOf({ rows }: PricesData): string {
  const above = rows.reduce((sum, row) => sum + row.above.length, 0);
  const jobs = rows.reduce((sum, { fair }) => sum + jobsAt(fair), 0) + above;
  const whole = `What ${jobs.toLocaleString('en-US')} jobs were charged, by kind of work, beside the range of fair prices. ${(jobs - above).toLocaleString('en-US')} lie at a fair price.`;
  const beyond = rows.filter((row) => row.above.length > 0);
  if (beyond.length === 0) return `${whole} None lies above its own.`;
  const told = beyond.map(
    (row) =>
      `${row.name}, ${row.above.length.toLocaleString('en-US')} by ${formatCents(tooMuch(row))}`,
  );
  return `${whole} Above their own lie: ${told.join('; ')}.`;
}

function tableOf({ subject, rows }: PricesData): Plot['table'] {
  return {
    columns: [subject, 'Jobs', 'Fair from', 'Fair to', 'Above', 'Too much'],
    rows: rows.map((row) => [
      row.name,
      (jobsAt(row.fair) + row.above.length).toLocaleString('en-US'),
      ...(row.bandCents?.map(formatCents) ?? ['', '']),
      row.above.length.toLocaleString('en-US'),
      formatCents(tooMuch(row)),
    ]),
  };
}
