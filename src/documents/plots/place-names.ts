import { fitText } from '../fit-text.ts';
import type { Box, MeasureText, PlainInk } from '../page-plan.ts';
import { COLOR, TYPE } from '../paper-style.ts';
import { type Frame, textInk } from './frame.ts';

/** A mark that may get its name beside it. */
export interface NamedMark {
  readonly name: string;
  readonly at: readonly [number, number];
  /** Named before the others where there is no room for all. */
  readonly comesFirst: boolean;
}

/**
 * Names beside their marks: to the right, or to the left, above or below where that is taken. A mark
 * whose name finds no room stays without; the table beside the picture names it.
 */
export function placeNames(
  marks: readonly NamedMark[],
  frame: Frame,
  measure: MeasureText,
): PlainInk[] {
  const taken = marks.map(({ at: [x, y] }) => boxAround(x, y));
  const ordered = [...marks].sort(
    (one, other) => Number(other.comesFirst) - Number(one.comesFirst),
  );
  return ordered.flatMap(({ name: whole, at }) => {
    const name = fitText(whole, TYPE.tick, NAME_MAX_PT, measure);
    const widthPt = measure(name, TYPE.tick);
    const own = boxAround(...at);
    const place = placesBeside(at, widthPt).find(
      (box) =>
        isInside(box, frame) && !taken.some((other) => !isSame(other, own) && meet(box, other)),
    );
    if (place === undefined) return [];
    taken.push(place);
    return [ground(place), textInk(name, place.xPt, place.yPt + place.heightPt - 2)];
  });
}

/** A longer name is cut; the table has it whole. */
const NAME_MAX_PT = 120;
const REACH_PT = 4;
const HEIGHT_PT = 9;

/** A name stays readable where a line runs behind it. */
function ground(box: Box): PlainInk {
  return { kind: 'rectangle', ...box, radiusPt: 1, fill: COLOR.white };
}

function boxAround(x: number, y: number): Box {
  return { xPt: x - REACH_PT, yPt: y - REACH_PT, widthPt: 2 * REACH_PT, heightPt: 2 * REACH_PT };
}

function placesBeside([x, y]: readonly [number, number], widthPt: number): Box[] {
  const size = { widthPt, heightPt: HEIGHT_PT };
  const gap = REACH_PT + 3;
  return [
    { xPt: x + gap, yPt: y - HEIGHT_PT / 2, ...size },
    { xPt: x - gap - widthPt, yPt: y - HEIGHT_PT / 2, ...size },
    { xPt: x - widthPt / 2, yPt: y - gap - HEIGHT_PT, ...size },
    { xPt: x - widthPt / 2, yPt: y + gap, ...size },
  ];
}

function isInside({ xPt, yPt, widthPt, heightPt }: Box, frame: Frame): boolean {
  return (
    xPt >= frame.leftPt &&
    xPt + widthPt <= frame.rightPt &&
    yPt >= frame.topPt &&
    yPt + heightPt <= frame.bottomPt
  );
}

function isSame(one: Box, other: Box): boolean {
  return one.xPt === other.xPt && one.yPt === other.yPt && one.widthPt === other.widthPt;
}

function meet(one: Box, other: Box): boolean {
  return (
    one.xPt < other.xPt + other.widthPt &&
    other.xPt < one.xPt + one.widthPt &&
    one.yPt < other.yPt + other.heightPt &&
    other.yPt < one.yPt + one.heightPt
  );
}
