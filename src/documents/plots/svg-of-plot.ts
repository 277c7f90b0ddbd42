import { type Html, html } from '../../platform/html/html.ts';
import { createMeasureText } from '../measure-text.ts';
import type { MeasureText, PlainInk } from '../page-plan.ts';
import { COLOR } from '../paper-style.ts';
import type { Plot } from './plot.ts';

/**
 * A plot as a picture that stands by itself (SVG 1.1): its title and description are in it, it needs
 * no style sheet, no script and no typeface of ours. Whatever typeface a reader has, each text is set
 * as wide as it was laid out, so that none runs over another or out of the picture.
 */
export function svgOfPlot(plot: Plot, measure: MeasureText = createMeasureText()): string {
  const { title, description, widthPt, heightPt, inks } = plot;
  const box = `0 0 ${figure(widthPt)} ${figure(heightPt)}`;
  return html`<svg xmlns="http://www.w3.org/2000/svg" role="img" viewBox="${box}" width="${figure(widthPt)}" height="${figure(heightPt)}" font-family="Source Sans 3, Helvetica, Arial, sans-serif"><title>${title}</title><desc>${description}</desc><rect width="100%" height="100%" fill="${COLOR.white}"/>${inks.map((ink) => drawn(ink, measure))}</svg>`.toString();
}

function drawn(ink: PlainInk, measure: MeasureText): Html {
  switch (ink.kind) {
    case 'rectangle':
      return html`<rect x="${figure(ink.xPt)}" y="${figure(ink.yPt)}" width="${figure(ink.widthPt)}" height="${figure(ink.heightPt)}" rx="${figure(ink.radiusPt)}" fill="${ink.fill}"/>`;
    case 'line': {
      const [[x1, y1], [x2, y2]] = [ink.fromPt, ink.toPt];
      return html`<line x1="${figure(x1)}" y1="${figure(y1)}" x2="${figure(x2)}" y2="${figure(y2)}" stroke="${ink.color}" stroke-width="${figure(ink.widthPt)}"/>`;
    }
    case 'circle': {
      const [cx, cy] = ink.centerPt;
      return html`<circle cx="${figure(cx)}" cy="${figure(cy)}" r="${figure(ink.radiusPt)}" fill="${ink.fill}" stroke="${ink.stroke}" stroke-width="1"/>`;
    }
    case 'polygon': {
      const points = ink.pointsPt.map(([x, y]) => `${figure(x)},${figure(y)}`).join(' ');
      return html`<polygon points="${points}" fill="${ink.fill}"/>`;
    }
    case 'text': {
      const { face, sizePt, color } = ink.style;
      const weight = face === 'semibold' ? '600' : '400';
      const wide = measure(ink.text, ink.style);
      return html`<text x="${figure(ink.xPt)}" y="${figure(ink.baselinePt)}" font-size="${figure(sizePt)}" font-weight="${weight}" fill="${color}" textLength="${figure(wide)}" lengthAdjust="spacingAndGlyphs">${ink.text}</text>`;
    }
  }
}

/** To a hundredth of a point: finer than anybody sees, and the same on every machine. */
function figure(points: number): string {
  return String(Math.round(points * 100) / 100);
}
