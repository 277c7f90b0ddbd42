import { fitText } from '../fit-text.ts';
import { formatCents } from '../format-cents.ts';
import type { MeasureText, PlainInk } from '../page-plan.ts';
import { COLOR, PAGE, TYPE } from '../paper-style.ts';
import { type Frame, footInks, lineInk, markInk, textInk } from './frame.ts';
import type { Plot } from './plot.ts';
import { ticksTo } from './ticks.ts';

/** What was charged for the same work, beside what it may cost. */
export interface BandsData {
  readonly title: string;
  /** What each row is: `Task`. */
  readonly subject: string;
  readonly rows: readonly BandRow[];
}

export interface BandRow {
  readonly name: string;
  /** From its cost to its computed price with the tolerance of the policy. */
  readonly bandCents: readonly [number, number];
  /** What was charged, bill by bill. */
  readonly chargedCents: readonly number[];
}

/**
 * One row for each kind of work: the band of fair prices, and a mark at each price that was charged,
 * a full dot within the band and a diamond outside it.
 */
export function plotBands(data: BandsData, measure: MeasureText): Plot {
  const heightPt = HEAD_PT + data.rows.length * ROW_PT + FOOT_PT;
  const frame: Frame = {
    leftPt: NAME_PT + 12,
    rightPt: PAGE.contentWidthPt - 24,
    topPt: HEAD_PT,
    bottomPt: heightPt - FOOT_PT,
  };
  const most = highest([
    ...data.rows.flatMap(({ bandCents, chargedCents }) => [bandCents[1], ...chargedCents]),
    100,
  ]);
  const ticks = ticksTo(most / 100, 6);
  const toX = (cents: number) =>
    frame.leftPt + ((frame.rightPt - frame.leftPt) * cents) / (100 * (ticks.at(-1) ?? 1));
  return {
    title: data.title,
    description: descriptionOf(data),
    widthPt: PAGE.contentWidthPt,
    heightPt,
    inks: [
      ...ticks.map((dollars) => {
        const x = toX(100 * dollars);
        return lineInk([x, frame.topPt], [x, frame.bottomPt], COLOR.hairline, 0.6);
      }),
      ...footInks(
        frame,
        ticks.map((dollars) => ({ atPt: toX(100 * dollars), text: `$${dollars}` })),
        measure,
      ),
      ...data.rows.flatMap((row, index) =>
        rowInks(row, frame.topPt + (index + 0.5) * ROW_PT, toX, measure),
      ),
    ],
    table: {
      columns: [data.subject, 'Fair from', 'Fair to', 'Bills', 'Above', 'Highest'],
      rows: data.rows.map((row) => [
        row.name,
        formatCents(row.bandCents[0]),
        formatCents(row.bandCents[1]),
        String(row.chargedCents.length),
        String(above(row).length),
        row.chargedCents.length === 0 ? '' : formatCents(highest(row.chargedCents)),
      ]),
    },
  };
}

const NAME_PT = 150;
const ROW_PT = 20;
const HEAD_PT = 6;
const FOOT_PT = 20;
const BAND_HEIGHT_PT = 9;

function rowInks(
  row: BandRow,
  y: number,
  toX: (cents: number) => number,
  measure: MeasureText,
): PlainInk[] {
  const { name, bandCents } = row;
  const [low, high] = bandCents;
  return [
    textInk(fitText(name, TYPE.small, NAME_PT, measure), 0, y + 3, TYPE.small),
    {
      kind: 'rectangle',
      xPt: toX(low),
      yPt: y - BAND_HEIGHT_PT / 2,
      widthPt: Math.max(toX(high) - toX(low), 1),
      heightPt: BAND_HEIGHT_PT,
      radiusPt: 2,
      fill: COLOR.band,
    },
    ...marksOf(row, y, toX),
  ];
}

/**
 * Prices that would be drawn in the same place are drawn once, those outside the band apart from those
 * within: ten thousand bills are no more ink, and none that is outside is hidden.
 */
function marksOf(
  { bandCents: [low, high], chargedCents }: BandRow,
  y: number,
  toX: (cents: number) => number,
): PlainInk[] {
  const marks = new Map<string, PlainInk>();
  for (const cents of chargedCents) {
    const isOutside = cents < low || cents > high;
    const place = `${isOutside} ${Math.round(toX(cents))}`;
    if (!marks.has(place)) marks.set(place, markInk([toX(cents), y], isOutside));
  }
  return [...marks.values()];
}

/** One after the other: as arguments of one call, the amounts of many bills are too many. */
function highest(amountsCents: readonly number[]): number {
  return amountsCents.reduce((most, each) => Math.max(most, each), 0);
}

function above({ bandCents: [, high], chargedCents }: BandRow): number[] {
  return chargedCents.filter((cents) => cents > high);
}

function descriptionOf({ rows }: BandsData): string {
  const beyond = rows.filter((row) => above(row).length > 0);
  const told = beyond.map(
    (row) => `${row.name}, ${above(row).length} of ${row.chargedCents.length}`,
  );
  const end = beyond.length === 0 ? 'None lies above it.' : `Above it lie: ${told.join('; ')}.`;
  return `What was charged for each kind of work beside the range of fair prices. ${end}`;
}
