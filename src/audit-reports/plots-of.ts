import { funnelLimit } from '../auditing/index.ts';
import { type MeasureText, type Plot, plotFunnel, plotTrend } from '../documents/index.ts';
import type { ReportedPattern } from './contract.ts';
import type { NameOf } from './names-of.ts';
import { hasPrices, plotOfPrices } from './plot-of-prices.ts';
import type { PriceSpread } from './price-spread.ts';
import { TELLING_MIN } from './share-text.ts';

/** A plot with the name by which it is asked for; it is drawn when somebody wants it. */
export interface NamedPlot {
  readonly name: string;
  /** Whether there is anything to compare: otherwise it is only paper. */
  readonly isWorthPrinting: boolean;
  /** Whether something in it stands out. */
  readonly standsOut: boolean;
  draw(measure: MeasureText): Plot;
}

/** What plots are drawn from. */
export interface PlotSources {
  readonly patterns: readonly ReportedPattern[];
  readonly spread: PriceSpread;
  readonly nameOf: NameOf;
}

/**
 * The pictures of a report: prices beside their fair band, a funnel for each measure of people, a trend
 * for each measure by month. Nothing is drawn of a measure that nobody has a job of.
 */
export function plotsOf({ patterns, spread, nameOf }: PlotSources): NamedPlot[] {
  return [...plotOfSpread(spread, nameOf), ...patterns.flatMap(plotOfPattern)];
}

/** A plot that is drawn, with what is known of it. */
export type DrawnPlot = Omit<NamedPlot, 'draw'> & { readonly plot: Plot };

/** Draws some plots, one in each step. */
export function* drawnPlots(
  plots: readonly NamedPlot[],
  measure: MeasureText,
): Generator<void, DrawnPlot[]> {
  const drawn: DrawnPlot[] = [];
  for (const { draw, ...named } of plots) {
    drawn.push({ ...named, plot: draw(measure) });
    yield;
  }
  return drawn;
}

function plotOfSpread(spread: PriceSpread, nameOf: NameOf): NamedPlot[] {
  const works = [...spread.works.values()].filter(hasPrices);
  if (works.length === 0) return [];
  return [
    {
      name: 'prices-by-work',
      isWorthPrinting: true,
      standsOut: works.some(({ above }) => above.length > 0),
      draw: (measure) => plotOfPrices(spread, nameOf, measure),
    },
  ];
}

function plotOfPattern(pattern: ReportedPattern): NamedPlot[] {
  const rows = pattern.rows.filter(({ trials }) => trials > 0);
  const draw = drawingOf({ ...pattern, rows });
  if (rows.length === 0 || draw === undefined) return [];
  return [
    {
      name: `${pattern.measure}-by-${pattern.by}`.replaceAll('_', '-'),
      isWorthPrinting: comparesSomething(rows, pattern.by),
      standsOut: rows.some(isApart),
      draw,
    },
  ];
}

function isApart({ standing }: ReportedPattern['rows'][number]): boolean {
  return standing === 'stands_out' || standing === 'fewer_than_others';
}

/** Two people of whom there is enough to say, or three months, and not all of them at nothing or all. */
function comparesSomething(rows: ReportedPattern['rows'], by: ReportedPattern['by']): boolean {
  const isAllAlike =
    rows.every(({ count }) => count === 0) || rows.every(({ count, trials }) => count === trials);
  if (isAllAlike || !rows.some(({ trials }) => trials >= TELLING_MIN)) return false;
  if (by === 'month') return rows.length >= 3;
  return rows.filter(({ standing }) => standing !== 'not_enough_data').length >= 2;
}

function drawingOf(pattern: ReportedPattern): NamedPlot['draw'] | undefined {
  switch (pattern.by) {
    case 'technician':
    case 'call_taker':
      return (measure) => plotFunnel(funnelOf(pattern), measure);
    case 'month':
      return (measure) => plotTrend(trendOf(pattern), measure);
    case 'task':
    case 'part_category':
      return undefined;
  }
}

function funnelOf({ happened, among, by, side, rows }: ReportedPattern) {
  const sum = (of: 'count' | 'trials') => rows.reduce((all, row) => all + row[of], 0);
  const share = sum('count') / sum('trials');
  const most = Math.max(...rows.map(({ trials }) => trials));
  return {
    title: `${happened}, by ${BY[by]}`,
    subject: by === 'technician' ? 'Technician' : 'Who took the call',
    trials: capitalized(among),
    measure: happened,
    share,
    points: rows.map(({ name, count, trials, standing }) => ({
      ...{ name, count, trials },
      asksForLook:
        standing === 'fewer_than_others' || (side === 'look' && standing === 'stands_out'),
    })),
    edges: placesUpTo(most).map((trials) => ({
      trials,
      inner: [funnelLimit(share, trials, 0.025), funnelLimit(share, trials, 0.975)] as const,
      outer: [funnelLimit(share, trials, 0.001), funnelLimit(share, trials, 0.999)] as const,
    })),
  };
}

const BY: Record<ReportedPattern['by'], string> = {
  technician: 'technician',
  call_taker: 'who took the call',
  task: 'task',
  part_category: 'kind of part',
  month: 'month',
};

/** Numbers of jobs at which the edge of a funnel is computed: close together where it bends. */
function placesUpTo(most: number): number[] {
  const places = Array.from({ length: 60 }, (_, at) =>
    Math.round((most * 1.1 * (at + 1) ** 2) / 3_600),
  );
  return [...new Set(places.filter((place) => place > 0))];
}

function trendOf({ happened, among, rows }: ReportedPattern) {
  const months = monthsBetween(rows.map(({ subject }) => subject));
  return {
    title: `${happened}, by month`,
    measure: happened,
    trials: capitalized(among),
    months: months.map((month) => {
      const row = rows.find(({ subject }) => subject === month);
      const { count = 0, trials = 0, shareFrom = null, shareTo = null } = row ?? {};
      const interval =
        shareFrom === null || shareTo === null ? null : ([shareFrom, shareTo] as const);
      return { month, count, trials, interval };
    }),
  };
}

/** Every month from the first to the last, those without a job among them. */
function monthsBetween(months: readonly string[]): string[] {
  const sorted = [...months].sort();
  const [first = ''] = sorted;
  const last = sorted.at(-1) ?? '';
  const all: string[] = [];
  for (let month = first; month <= last && month !== ''; month = monthAfter(month)) all.push(month);
  return all;
}

function monthAfter(month: string): string {
  const [year = 0, at = 0] = month.split('-').map(Number);
  const next = at === 12 ? [year + 1, 1] : [year, at + 1];
  return `${next[0]}-${String(next[1]).padStart(2, '0')}`;
}

function capitalized(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
