import type { Ink, PagePlan, Tag, TagType } from '../../src/documents/page-plan.ts';

/**
 * What a laid-out paper says, as a web page: the same texts in the same order under the same
 * meanings, and the same drawings. The browser lays it out anew, as it would any page.
 */
export function planHtml({ root, title, language }: PagePlan): string {
  const head = `<meta charset="utf-8"><title>${text(title)}</title><style>${STYLE}</style>`;
  return `<!doctype html><html lang="${language}"><head>${head}</head><body>${element(root)}</body></html>`;
}

const ELEMENT: Record<Exclude<TagType, 'Figure'>, string> = {
  Document: 'main',
  Sect: 'section',
  Div: 'div',
  H1: 'h1',
  H2: 'h2',
  H3: 'h3',
  P: 'p',
  Span: 'span',
  L: 'ul',
  LI: 'li',
  Lbl: 'b',
  LBody: 'span',
  Table: 'table',
  THead: 'thead',
  TBody: 'tbody',
  TR: 'tr',
  TH: 'th',
  TD: 'td',
};

function element(tag: Tag): string {
  if (tag.type === 'Figure') return figure(tag);
  const { columnSpan = 1 } = tag.meaning;
  const span = columnSpan > 1 ? ` colspan="${columnSpan}"` : '';
  const inner = tag.children
    .map((child) => (child.kind === 'tag' ? element(child) : words(child.inks)))
    .join('');
  const name = ELEMENT[tag.type];
  return `<${name}${span}>${inner}</${name}>`;
}

function words(inks: readonly Ink[]): string {
  return inks.map((ink) => (ink.kind === 'text' ? text(ink.text) : '')).join('');
}

function figure({ meaning: { alt = '', box }, children }: Tag): string {
  if (box === undefined) return '';
  const inks = children.flatMap((child) => (child.kind === 'mark' ? child.inks : []));
  const view = `${box.xPt} ${box.yPt} ${box.widthPt} ${box.heightPt}`;
  const size = `width="${box.widthPt}pt" height="${box.heightPt}pt"`;
  return `<svg role="img" aria-label="${text(alt)}" viewBox="${view}" ${size}>${inks.map(shape).join('')}</svg>`;
}

function shape(ink: Ink): string {
  switch (ink.kind) {
    case 'text':
      return `<text x="${ink.xPt}" y="${ink.baselinePt}" font-size="${ink.style.sizePt}">${text(ink.text)}</text>`;
    case 'rectangle':
      return `<rect x="${ink.xPt}" y="${ink.yPt}" width="${ink.widthPt}" height="${ink.heightPt}" rx="${ink.radiusPt}" fill="${ink.fill}"/>`;
    case 'line':
      return `<path d="M${ink.fromPt.join(' ')}L${ink.toPt.join(' ')}" stroke="${ink.color}" stroke-width="${ink.widthPt}"/>`;
    case 'circle':
      return `<circle cx="${ink.centerPt[0]}" cy="${ink.centerPt[1]}" r="${ink.radiusPt}" fill="${ink.fill}" stroke="${ink.stroke}"/>`;
    case 'polygon':
      return `<polygon points="${ink.pointsPt.map((point) => point.join(',')).join(' ')}" fill="${ink.fill}"/>`;
    case 'blocks': {
      const path = ink.blocks
        .map(
          ({ xPt, yPt, widthPt, heightPt }) => `M${xPt} ${yPt}h${widthPt}v${heightPt}h-${widthPt}z`,
        )
        .join('');
      return `<path d="${path}" fill="${ink.fill}"/>`;
    }
  }
}

function text(raw: string): string {
  return raw
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;');
}

/** Set so that the browser comes to as many pages as we do. */
const STYLE = `@page { size: letter; margin: 0.6in }
body { font: 10pt/13pt sans-serif } h1 { font-size: 22pt } p { margin: 2pt 0 } ul { margin: 3pt 0 }
table { width: 100%; border-collapse: collapse }
td, th { border-bottom: 1px solid #ccc; padding: 2pt 4pt; text-align: left; vertical-align: top }
td:last-child { text-align: right }`;
