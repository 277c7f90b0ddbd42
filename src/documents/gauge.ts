import { formatDecimal } from './format-decimal.ts';
import type { Box, MeasureText, PlainInk } from './page-plan.ts';
import type { PaperMeasurement } from './paper-parts.ts';
import { COLOR, TYPE } from './paper-style.ts';

/** The height every gauge takes: marker, track, limit numbers. */
export const GAUGE_HEIGHT_PT = 31;

/**
 * Draws a reading against its allowed band: a track, the band on it, a tick with its number at each
 * limit, a bar as wide as the reading's uncertainty, and a marker at the reading. The marker is a
 * full dot within the band, a hollow one when undecided, a full diamond outside, so that a grey
 * print tells as much as a colored one. A reading of more than three times its limit stands beyond a
 * break of the track, with both figures written out below: drawn to one scale the limit would vanish
 * in the corner, and on a scale that flatters it 118 V against 3 V looked like twice too much.
 * @param beside the same thing measured at another time: both are drawn to one scale, so that the
 *   eye may compare them
 */
export function gaugeInks(
  measurement: PaperMeasurement,
  box: Omit<Box, 'heightPt'>,
  measure: MeasureText,
  limitWords: (limit: string) => string,
  beside?: PaperMeasurement,
): PlainInk[] {
  const far = farthest([measurement, beside]);
  const isBroken = far !== undefined;
  const toX = isBroken ? brokenToX(far, box) : plainToX(measurement, beside, box);
  const trackPt = box.yPt + TRACK_OFFSET_PT;
  return [
    bar(box.xPt, box.xPt + box.widthPt, trackPt, TRACK_HEIGHT_PT, COLOR.track),
    ...bandInks(measurement, box, toX, trackPt),
    ...(isBroken
      ? [
          ...breakInks(box, trackPt),
          ...endInks(measurement, box, toX, trackPt, measure, limitWords),
        ]
      : limitInks(measurement, box, toX, trackPt, measure)),
    ...uncertaintyInks(measurement, toX, trackPt),
    ...markerInks(measurement, toX(measurement.value), trackPt + TRACK_HEIGHT_PT / 2),
  ];
}

/**
 * The stretch of values a gauge shows: everything that matters, and a margin so that neither the
 * marker nor a limit lies on the very edge. A reading with one limit keeps open room on the allowed
 * side. Where nothing shown is negative the stretch begins at nothing at the least.
 */
export function gaugeScale(measurement: PaperMeasurement): { from: number; to: number } {
  const { value, uncertainty = 0, low, high } = measurement;
  const shown = [value - uncertainty, value + uncertainty, low ?? value, high ?? value];
  const least = Math.min(...shown);
  const most = Math.max(...shown);
  const spread = most - least || Math.abs(value) || 1;
  const from = least - spread * (low === undefined ? OPEN_MARGIN : MARGIN);
  return {
    from: least > 0 ? Math.max(0, from) : from,
    to: most + spread * (high === undefined ? OPEN_MARGIN : MARGIN),
  };
}

const TRACK_OFFSET_PT = 7;
const TRACK_HEIGHT_PT = 7;
const MARGIN = 0.22;
const OPEN_MARGIN = 0.5;
const MARKER_RADIUS_PT = 5;
const END_CAP_PT = 2;

type ToX = (value: number) => number;
type Place = Omit<Box, 'heightPt'>;

function plainToX(
  measurement: PaperMeasurement,
  beside: PaperMeasurement | undefined,
  box: Place,
): ToX {
  const own = gaugeScale(measurement);
  const others = beside === undefined ? own : gaugeScale(beside);
  const from = Math.min(own.from, others.from);
  const to = Math.max(own.to, others.to);
  return (value) => box.xPt + (box.widthPt * (value - from)) / (to - from);
}

const FAR_BEYOND_RATIO = 3;

/** Whether a reading is so far above its limit that one scale cannot show both. */
function isFarBeyond({ value, uncertainty = 0, low = 0, high }: PaperMeasurement): boolean {
  return (
    high !== undefined && high > 0 && low >= 0 && value - uncertainty > FAR_BEYOND_RATIO * high
  );
}

/** Shares of the gauge's width: the near part ends at the break, the reading stands in the far one. */
const BREAK_FROM = 0.57;
const BREAK_TO = 0.61;
const FAR_MARK = 0.84;
const FAR_REACH = 0.1;
const NEAR_OVER_LIMIT = 1.5;

function brokenToX(
  { value, uncertainty = 0, high = 1 }: PaperMeasurement,
  { xPt, widthPt }: Place,
): ToX {
  const nearTo = NEAR_OVER_LIMIT * high;
  return (shown) => {
    if (shown <= nearTo) return xPt + widthPt * BREAK_FROM * (Math.max(shown, 0) / nearTo);
    const beyond = (shown - value) / Math.max(uncertainty, value);
    const share = FAR_MARK + FAR_REACH * beyond;
    return xPt + widthPt * Math.min(1, Math.max(BREAK_TO, share));
  };
}

/** The reading that calls for a broken scale; of two, the one farther out. */
function farthest(
  measurements: readonly (PaperMeasurement | undefined)[],
): PaperMeasurement | undefined {
  return measurements
    .filter((one) => one !== undefined)
    .filter(isFarBeyond)
    .sort((one, other) => other.value - one.value)[0];
}

/** Two strokes across a gap of the track: the scale does not go on here. */
function breakInks({ xPt, widthPt }: Place, trackPt: number): PlainInk[] {
  const fromX = xPt + widthPt * BREAK_FROM;
  const toXPt = xPt + widthPt * BREAK_TO;
  const gap: PlainInk = {
    kind: 'rectangle',
    xPt: fromX,
    yPt: trackPt - 1,
    widthPt: toXPt - fromX,
    heightPt: TRACK_HEIGHT_PT + 2,
    radiusPt: 0,
    fill: COLOR.white,
  };
  const slash = (x: number) => stroke([x - 2, trackPt + TRACK_HEIGHT_PT + 3], [x + 2, trackPt - 3]);
  return [gap, slash(fromX), slash(toXPt)];
}

/** The limit's tick with 'limit 3 V' and the reading's own figure, each below its place. */
function endInks(
  { value, high = 0, unit, decimals, limitDecimals = decimals }: PaperMeasurement,
  box: Place,
  toX: ToX,
  trackPt: number,
  measure: MeasureText,
  limitWords: (limit: string) => string,
): PlainInk[] {
  const ends = [
    { text: limitWords(`${formatDecimal(high, limitDecimals)} ${unit}`), at: toX(high) },
    { text: `${formatDecimal(value, decimals)} ${unit}`, at: toX(value) },
  ].sort((one, other) => one.at - other.at);
  const labels = ends.map(({ text, at }) => {
    const widthPt = measure(text, TYPE.tick);
    return { text, widthPt, xPt: at - widthPt / 2 };
  });
  keepApart(labels, box);
  return [limitTick(toX(high), trackPt), ...labels.map((label) => tickText(label, trackPt))];
}

function bandInks(
  { low, high }: PaperMeasurement,
  box: Omit<Box, 'heightPt'>,
  toX: ToX,
  trackPt: number,
): PlainInk[] {
  if (low === undefined && high === undefined) return [];
  const fromX = low === undefined ? box.xPt : toX(low);
  const toXPt = high === undefined ? box.xPt + box.widthPt : toX(high);
  return [bar(fromX, toXPt, trackPt, TRACK_HEIGHT_PT, COLOR.band)];
}

function limitInks(
  measurement: PaperMeasurement,
  box: Omit<Box, 'heightPt'>,
  toX: ToX,
  trackPt: number,
  measure: MeasureText,
): PlainInk[] {
  const limits = [measurement.low, measurement.high].filter((limit) => limit !== undefined);
  const labels = limits.map((limit) => {
    const text = formatDecimal(limit, measurement.limitDecimals ?? measurement.decimals);
    const widthPt = measure(text, TYPE.tick);
    return { text, widthPt, tickX: toX(limit), xPt: toX(limit) - widthPt / 2 };
  });
  keepApart(labels, box);
  return labels.flatMap((label) => [limitTick(label.tickX, trackPt), tickText(label, trackPt)]);
}

function limitTick(x: number, trackPt: number): PlainInk {
  return {
    kind: 'line',
    fromPt: [x, trackPt - 3],
    toPt: [x, trackPt + TRACK_HEIGHT_PT + 3],
    widthPt: 1,
    color: COLOR.accent,
  };
}

function tickText({ text, xPt }: { text: string; xPt: number }, trackPt: number): PlainInk {
  return {
    kind: 'text',
    // The space keeps two neighboring figures apart when the text is taken from the page.
    text: `${text} `,
    xPt,
    baselinePt: trackPt + TRACK_HEIGHT_PT + 12,
    style: TYPE.tick,
  };
}

/** Pushes two limit numbers apart where they would touch, and both back inside the gauge. */
function keepApart(
  labels: { widthPt: number; xPt: number }[],
  box: { xPt: number; widthPt: number },
) {
  const [first, second] = labels;
  if (first !== undefined && second !== undefined) {
    const overlapPt = first.xPt + first.widthPt + 6 - second.xPt;
    if (overlapPt > 0) {
      first.xPt -= overlapPt / 2;
      second.xPt += overlapPt / 2;
    }
  }
  for (const label of labels) {
    label.xPt = Math.max(box.xPt, Math.min(label.xPt, box.xPt + box.widthPt - label.widthPt));
  }
}

function uncertaintyInks(
  { value, uncertainty }: PaperMeasurement,
  toX: ToX,
  trackPt: number,
): PlainInk[] {
  if (uncertainty === undefined || uncertainty === 0) return [];
  const middlePt = trackPt + TRACK_HEIGHT_PT / 2;
  const fromX = toX(value - uncertainty);
  const untilX = toX(value + uncertainty);
  return [
    stroke([fromX, middlePt], [untilX, middlePt]),
    stroke([fromX, middlePt - END_CAP_PT], [fromX, middlePt + END_CAP_PT]),
    stroke([untilX, middlePt - END_CAP_PT], [untilX, middlePt + END_CAP_PT]),
  ];
}

function stroke(fromPt: readonly [number, number], toPt: readonly [number, number]): PlainInk {
  return { kind: 'line', fromPt, toPt, widthPt: 1, color: COLOR.ink };
}

function markerInks({ verdict }: PaperMeasurement, x: number, y: number): PlainInk[] {
  const dot = { kind: 'circle', centerPt: [x, y], radiusPt: MARKER_RADIUS_PT } as const;
  switch (verdict) {
    case 'within':
    case 'present':
      return [{ ...dot, fill: COLOR.accent, stroke: COLOR.white }];
    case 'undecided':
      return [{ ...dot, fill: COLOR.white, stroke: COLOR.ink }];
    case 'outside':
    case 'absent': {
      const reachPt = MARKER_RADIUS_PT + 1.5;
      const pointsPt = [
        [x, y - reachPt],
        [x + reachPt, y],
        [x, y + reachPt],
        [x - reachPt, y],
      ] as const;
      return [{ kind: 'polygon', pointsPt, fill: COLOR.ink }];
    }
  }
}

function bar(fromX: number, toX: number, yPt: number, heightPt: number, fill: string): PlainInk {
  const widthPt = Math.max(toX - fromX, 0.5);
  return {
    kind: 'rectangle',
    xPt: fromX,
    yPt,
    widthPt,
    heightPt,
    radiusPt: Math.min(heightPt, widthPt) / 2,
    fill,
  };
}
