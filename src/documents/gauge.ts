import { formatDecimal } from './format-decimal.ts';
import type { Box, Ink, MeasureText } from './page-plan.ts';
import { COLOR, TYPE } from './paper-style.ts';
import type { PaperMeasurement } from './quote-paper.ts';

/** The height every gauge takes: marker, track, limit numbers. */
export const GAUGE_HEIGHT_PT = 31;

/**
 * Draws a reading against its allowed band: a track, the band on it, a tick with its number at each
 * limit, a bar as wide as the reading's uncertainty, and a marker at the reading. The marker is a
 * full dot within the band, a hollow one when undecided, a full diamond outside, so that a grey
 * print tells as much as a colored one.
 */
export function gaugeInks(
  measurement: PaperMeasurement,
  box: Omit<Box, 'heightPt'>,
  measure: MeasureText,
): Ink[] {
  const scale = gaugeScale(measurement);
  const toX = (value: number) =>
    box.xPt + (box.widthPt * (value - scale.from)) / (scale.to - scale.from);
  const trackPt = box.yPt + TRACK_OFFSET_PT;
  return [
    bar(box.xPt, box.xPt + box.widthPt, trackPt, TRACK_HEIGHT_PT, COLOR.track),
    ...bandInks(measurement, box, toX, trackPt),
    ...limitInks(measurement, box, toX, trackPt, measure),
    ...uncertaintyInks(measurement, toX, trackPt),
    ...markerInks(measurement, toX(measurement.value), trackPt + TRACK_HEIGHT_PT / 2),
  ];
}

/**
 * The stretch of values a gauge shows: everything that matters, and a margin so that neither the
 * marker nor a limit lies on the very edge. A reading with one limit keeps open room on the allowed
 * side.
 */
export function gaugeScale(measurement: PaperMeasurement): { from: number; to: number } {
  const { value, uncertainty = 0, low, high } = measurement;
  const shown = [value - uncertainty, value + uncertainty, low ?? value, high ?? value];
  const least = Math.min(...shown);
  const most = Math.max(...shown);
  const spread = most - least || Math.abs(value) || 1;
  return {
    from: least - spread * (low === undefined ? OPEN_MARGIN : MARGIN),
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

function bandInks(
  { low, high }: PaperMeasurement,
  box: Omit<Box, 'heightPt'>,
  toX: ToX,
  trackPt: number,
): Ink[] {
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
): Ink[] {
  const limits = [measurement.low, measurement.high].filter((limit) => limit !== undefined);
  const labels = limits.map((limit) => {
    const text = formatDecimal(limit, measurement.decimals);
    const widthPt = measure(text, TYPE.tick);
    return { text, widthPt, tickX: toX(limit), xPt: toX(limit) - widthPt / 2 };
  });
  keepApart(labels, box);
  return labels.flatMap(({ text, tickX, xPt }) => [
    {
      kind: 'line',
      fromPt: [tickX, trackPt - 3],
      toPt: [tickX, trackPt + TRACK_HEIGHT_PT + 3],
      widthPt: 1,
      color: COLOR.accent,
    },
    // The space keeps two neighboring limits apart when the text is taken from the page.
    {
      kind: 'text',
      text: `${text} `,
      xPt,
      baselinePt: trackPt + TRACK_HEIGHT_PT + 12,
      style: TYPE.tick,
    },
  ]);
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
): Ink[] {
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

function stroke(fromPt: readonly [number, number], toPt: readonly [number, number]): Ink {
  return { kind: 'line', fromPt, toPt, widthPt: 1, color: COLOR.ink };
}

function markerInks({ verdict }: PaperMeasurement, x: number, y: number): Ink[] {
  const dot = { kind: 'circle', centerPt: [x, y], radiusPt: MARKER_RADIUS_PT } as const;
  switch (verdict) {
    case 'within':
      return [{ ...dot, fill: COLOR.accent, stroke: COLOR.white }];
    case 'undecided':
      return [{ ...dot, fill: COLOR.white, stroke: COLOR.ink }];
    case 'outside': {
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

function bar(fromX: number, toX: number, yPt: number, heightPt: number, fill: string): Ink {
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
