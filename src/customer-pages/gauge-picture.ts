import {
  COLOR,
  formatDecimal,
  formatUncertainty,
  GAUGE_HEIGHT_PT,
  gaugeInks,
  type Ink,
  type PaperMeasurement,
} from '../documents/index.ts';
import { type Html, html } from '../platform/html/html.ts';
import type { Words } from './words.ts';

/**
 * A reading against its limits, drawn as on the paper: the same band, marks and broken scale, as
 * one picture that says in words what it shows.
 */
export function gaugePicture(measurement: PaperMeasurement, words: Words): Html {
  const box = { xPt: EDGE_PT, yPt: 0, widthPt: WIDTH_PT - 2 * EDGE_PT };
  const inks = gaugeInks(measurement, box, textWidthPt, words.limit);
  return html`<svg class="gauge" role="img" viewBox="${EDGE_PT} 0 ${WIDTH_PT - 2 * EDGE_PT} ${GAUGE_HEIGHT_PT}" aria-label="${gaugeAlt(measurement, words)}">${inks.map(drawn)}</svg>`;
}

/** The sentence that stands in for the picture. */
export function gaugeAlt(measurement: PaperMeasurement, words: Words): string {
  const { label, verdict } = measurement;
  const figures = [valueText(measurement, words), allowedText(measurement, words)];
  return `${label}. ${words.measured} ${figures.filter(Boolean).join('. ')}. ${words.verdict[verdict]}.`;
}

/** '34.5 µF, give or take 1.2'. */
export function valueText(measurement: PaperMeasurement, words: Words): string {
  const { value, unit, decimals } = measurement;
  const spread = formatUncertainty(measurement.uncertainty, decimals);
  const reading = `${formatDecimal(value, decimals)} ${unit}`;
  return spread === undefined ? reading : `${reading}, ${words.giveOrTake(spread)}`;
}

/** 'Allowed: 40.5 µF or more'; undefined for a reading without any limit. */
export function allowedText(measurement: PaperMeasurement, words: Words): string | undefined {
  const { low, high, unit, decimals, limitDecimals = decimals } = measurement;
  const figure = (limit: number) => formatDecimal(limit, limitDecimals);
  if (low !== undefined && high !== undefined) {
    return words.allowed.between(figure(low), `${figure(high)} ${unit}`);
  }
  if (low !== undefined) return words.allowed.atLeast(`${figure(low)} ${unit}`);
  if (high !== undefined) return words.allowed.atMost(`${figure(high)} ${unit}`);
  return undefined;
}

// Narrow, so that its figures stay large enough to read at the width it is given.
const WIDTH_PT = 170;
/** How far a mark on the very edge reaches out of the picture, which lets it. */
const EDGE_PT = 7;

/** Larger than on paper: a screen is held farther away than a letter. */
const FIGURE_PT = 9.5;

/** About how wide a text comes out in the reader's own font; nobody knows that font here. */
function textWidthPt(text: string): number {
  return text.length * FIGURE_PT * 0.58;
}

/** The page's own style sheet colors it, for light and dark; the picture says what each part is. */
const PARTS = new Map<string, string>([
  [COLOR.track, 'track'],
  [COLOR.band, 'band'],
  [COLOR.accent, 'accent'],
  [COLOR.ink, 'ink'],
  [COLOR.white, 'ground'],
  [COLOR.soft, 'soft'],
]);

function part(color: string): string {
  return PARTS.get(color) ?? 'ink';
}

function drawn(ink: Ink): Html {
  switch (ink.kind) {
    case 'rectangle':
      return html`<rect class="fill-${part(ink.fill)}" x="${round(ink.xPt)}" y="${round(ink.yPt)}" width="${round(ink.widthPt)}" height="${round(ink.heightPt)}" rx="${round(ink.radiusPt)}"/>`;
    case 'line': {
      const [[x1, y1], [x2, y2]] = [ink.fromPt, ink.toPt];
      return html`<line class="line-${part(ink.color)}" x1="${round(x1)}" y1="${round(y1)}" x2="${round(x2)}" y2="${round(y2)}" stroke-width="${ink.widthPt}"/>`;
    }
    case 'circle': {
      const [cx, cy] = ink.centerPt;
      return html`<circle class="fill-${part(ink.fill)} line-${part(ink.stroke)}" cx="${round(cx)}" cy="${round(cy)}" r="${round(ink.radiusPt)}" stroke-width="1.25"/>`;
    }
    case 'polygon': {
      const points = ink.pointsPt.map(([x, y]) => `${round(x)},${round(y)}`).join(' ');
      return html`<polygon class="fill-${part(ink.fill)}" points="${points}"/>`;
    }
    case 'text':
      return html`<text x="${round(ink.xPt)}" y="${round(ink.baselinePt)}" font-size="${FIGURE_PT}">${ink.text.trim()}</text>`;
  }
}

function round(points: number): number {
  return Math.round(points * 100) / 100;
}
