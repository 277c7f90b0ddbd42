import type { MeasureText, PlainInk, TextStyle } from '../page-plan.ts';
import { COLOR, TYPE } from '../paper-style.ts';

/** The field in which figures are drawn, and where each of them lies in it. */
export interface Frame {
  readonly leftPt: number;
  readonly rightPt: number;
  readonly topPt: number;
  readonly bottomPt: number;
}

export interface Tick {
  readonly atPt: number;
  readonly text: string;
}

/** Hairlines across the field, with their figures to the left of it. */
export function levelInks(frame: Frame, ticks: readonly Tick[], measure: MeasureText): PlainInk[] {
  return ticks.flatMap(({ atPt, text }): PlainInk[] => [
    lineInk([frame.leftPt, atPt], [frame.rightPt, atPt], COLOR.hairline, 0.6),
    textInk(text, frame.leftPt - 5 - measure(text, TYPE.tick), atPt + 2.5),
  ]);
}

/** Figures below the field, each in the middle of its place. */
export function footInks(frame: Frame, ticks: readonly Tick[], measure: MeasureText): PlainInk[] {
  return ticks.flatMap(({ atPt, text }): PlainInk[] => [
    lineInk([atPt, frame.bottomPt], [atPt, frame.bottomPt + 3], COLOR.soft, 0.6),
    textInk(text, atPt - measure(text, TYPE.tick) / 2, frame.bottomPt + 12),
  ]);
}

/** What is counted upward, above the field; what along it, below and to the right. */
export function axisWords(
  frame: Frame,
  { up, along }: { up: string; along: string },
  measure: MeasureText,
): PlainInk[] {
  const alongPt = frame.rightPt - measure(along, TYPE.label);
  return [
    textInk(up, 0, frame.topPt - 10, TYPE.label),
    textInk(along, alongPt, frame.bottomPt + 25, TYPE.label),
  ];
}

/** A line through points in their order. */
export function pathInks(
  points: readonly (readonly [number, number])[],
  color: string,
  widthPt: number,
): PlainInk[] {
  return points.slice(1).map((to, at): PlainInk => {
    const from = points[at] ?? to;
    return lineInk(from, to, color, widthPt);
  });
}

/** A full dot, and a larger diamond for what asks for a look: a grey print tells as much. */
export function markInk([x, y]: readonly [number, number], asksForLook: boolean): PlainInk {
  if (!asksForLook) {
    const look = { radiusPt: 3, fill: COLOR.accent, stroke: COLOR.white };
    return { kind: 'circle', centerPt: [x, y], ...look };
  }
  return diamondInk([x, y], 5.5);
}

/** @param reachPt from its middle to each of its points */
export function diamondInk([x, y]: readonly [number, number], reachPt: number): PlainInk {
  return {
    kind: 'polygon',
    pointsPt: [
      [x, y - reachPt],
      [x + reachPt, y],
      [x, y + reachPt],
      [x - reachPt, y],
    ],
    fill: COLOR.ink,
  };
}

export function lineInk(
  fromPt: readonly [number, number],
  toPt: readonly [number, number],
  color: string,
  widthPt: number,
): PlainInk {
  return { kind: 'line', fromPt, toPt, widthPt, color };
}

export function textInk(
  text: string,
  xPt: number,
  baselinePt: number,
  style: TextStyle = TYPE.tick,
): PlainInk {
  return { kind: 'text', text, xPt, baselinePt, style };
}
