import type { MeasureText, PlainInk } from '../page-plan.ts';
import { COLOR, PAGE } from '../paper-style.ts';
import { axisWords, type Frame, footInks, levelInks, lineInk, markInk, pathInks } from './frame.ts';
import { percent } from './percent.ts';
import { placeNames } from './place-names.ts';
import type { Plot } from './plot.ts';
import { shareTicks, ticksTo } from './ticks.ts';

/** Shares of several beside what chance alone would make of so many jobs. */
export interface FunnelData {
  readonly title: string;
  /** What each is: `Technician`. */
  readonly subject: string;
  /** What is counted: `jobs`. */
  readonly trials: string;
  /** What the share is of: `Resets billed as repairs`. */
  readonly measure: string;
  /** What all of them have together, from 0 to 1. */
  readonly share: number;
  readonly points: readonly {
    readonly name: string;
    readonly count: number;
    readonly trials: number;
    readonly asksForLook: boolean;
  }[];
  /** The funnel's edges at rising numbers of trials: 95 % of chance lies within the inner ones, 99.8 % within the outer. */
  readonly edges: readonly FunnelEdge[];
}

export interface FunnelEdge {
  readonly trials: number;
  readonly inner: readonly [number, number];
  readonly outer: readonly [number, number];
}

/**
 * Shares against the number of jobs they were counted on, in a funnel that is wide where few jobs say
 * little: whoever lies within it does as the others do, as far as anybody can tell.
 */
export function plotFunnel(data: FunnelData, measure: MeasureText): Plot {
  const frame: Frame = { leftPt: 34, rightPt: WIDTH_PT - 6, topPt: 26, bottomPt: HEIGHT_PT - 30 };
  const trialsTicks = ticksTo(Math.max(...data.points.map(({ trials }) => trials), 1), 6);
  const levels = levelsOf(data);
  const toX = along(frame, trialsTicks);
  const toY = upward(frame, levels);
  const inks: PlainInk[] = [
    ...levelInks(
      frame,
      levels.map((share) => ({ atPt: toY(share), text: percent(share) })),
      measure,
    ),
    ...footInks(
      frame,
      trialsTicks.map((trials) => ({ atPt: toX(trials), text: String(trials) })),
      measure,
    ),
    ...axisWords(frame, { up: data.measure, along: data.trials }, measure),
    ...edgeInks(data.edges, toX, toY, frame),
    lineInk([frame.leftPt, toY(data.share)], [frame.rightPt, toY(data.share)], COLOR.accent, 1),
    ...data.points.map((point) => markInk(at(point, toX, toY), point.asksForLook)),
    ...placeNames(
      data.points.map((point) => ({
        name: point.name,
        at: at(point, toX, toY),
        comesFirst: point.asksForLook,
      })),
      frame,
      measure,
    ),
  ];
  return {
    title: data.title,
    description: descriptionOf(data),
    ...{ widthPt: WIDTH_PT, heightPt: HEIGHT_PT, inks },
    table: {
      columns: [data.subject, data.trials, data.measure, 'Share', 'Asks for a look'],
      rows: data.points.map(({ name, trials, count, asksForLook }) => [
        ...[name, String(trials), String(count)],
        ...[trials === 0 ? '' : percent(count / trials), asksForLook ? 'yes' : 'no'],
      ]),
    },
  };
}

const WIDTH_PT = PAGE.contentWidthPt;
const HEIGHT_PT = 250;

type Scale = (value: number) => number;

/** Nothing is drawn far above or below all that there is. */
function levelsOf({ points, edges, share }: FunnelData): readonly [number, ...number[]] {
  const shares = points.map(({ count, trials }) => (trials === 0 ? 0 : count / trials));
  const fewest = Math.min(...points.map(({ trials }) => trials));
  const [low, high] = edges.find(({ trials }) => trials >= fewest)?.outer ?? [share, share];
  return shareTicks(Math.min(...shares, low, share), Math.max(...shares, high, share));
}

function along({ leftPt, rightPt }: Frame, ticks: readonly number[]): Scale {
  const most = ticks.at(-1) ?? 1;
  return (value) => leftPt + ((rightPt - leftPt) * value) / most;
}

function upward({ topPt, bottomPt }: Frame, ticks: readonly [number, ...number[]]): Scale {
  const [least] = ticks;
  const most = ticks.at(-1) ?? 1;
  const inField = (value: number) => Math.max(least, Math.min(value, most));
  return (value) => bottomPt - ((bottomPt - topPt) * (inField(value) - least)) / (most - least);
}

function at(
  { count, trials }: { count: number; trials: number },
  toX: Scale,
  toY: Scale,
): readonly [number, number] {
  return [toX(trials), toY(trials === 0 ? 0 : count / trials)];
}

/** The outer edge is broken, so that the two are told apart without color. */
function edgeInks(edges: readonly FunnelEdge[], toX: Scale, toY: Scale, frame: Frame): PlainInk[] {
  const line = (of: (edge: FunnelEdge) => number, from = 0) =>
    edges.slice(from).map((edge): [number, number] => [toX(edge.trials), toY(of(edge))]);
  const paths = (points: [number, number][]) =>
    pathInks(points, COLOR.soft, 0.8).filter((ink) => isWithin(ink, frame));
  const upper = (of: (edge: FunnelEdge) => number) => line(of, widestAt(edges.map(of)));
  const inner = [line(({ inner }) => inner[0]), upper(({ inner }) => inner[1])];
  const outer = [line(({ outer }) => outer[0]), upper(({ outer }) => outer[1])];
  return [
    ...inner.flatMap(paths),
    ...outer.flatMap((points) => paths(points).filter((_, index) => index % 2 === 0)),
  ];
}

/** Of one or two jobs even none is no surprise; a funnel is drawn from where it is widest. */
function widestAt(limits: readonly number[]): number {
  return Math.max(0, limits.indexOf(Math.max(...limits)));
}

/** Whether a stretch of an edge lies in the field: along its top and bottom, and beyond, nothing is drawn. */
function isWithin(ink: PlainInk, { rightPt, topPt, bottomPt }: Frame): boolean {
  if (ink.kind !== 'line') return true;
  const [[, y1], [x2, y2]] = [ink.fromPt, ink.toPt];
  const isInside = Math.max(y1, y2) > topPt && Math.min(y1, y2) < bottomPt;
  return x2 <= rightPt && isInside;
}

function descriptionOf({ measure, share, points, trials }: FunnelData): string {
  const standing = points.filter(({ asksForLook }) => asksForLook);
  const names = standing.map(({ name, count, trials: of }) => `${name}, ${count} of ${of}`);
  const end =
    names.length === 0
      ? 'Nobody lies further from the others than chance explains.'
      : `A look at the job files is asked for: ${names.join('; ')}.`;
  return `${measure} of each against the number of ${trials.toLowerCase()}, with the range that chance explains. All together: ${percent(share)}. ${end}`;
}
