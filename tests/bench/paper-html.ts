import type {
  PaperAddress,
  PaperFinding,
  PaperLine,
  PaperOption,
  PaperPricedLine,
  QuotePaper,
} from '../../src/documents/index.ts';
import { formatCents } from '../../src/documents/index.ts';
import { quoteWords } from '../../src/documents/quote-words.ts';

const words = quoteWords.en;

/** The same quote as a web page, in the plainest way: what a browser would be given to print. */
export function paperHtml(paper: QuotePaper): string {
  const { company, decline } = paper;
  const body = [
    tag('header', [
      tag('h1', text(company.name)),
      tag('p', address(company.address)),
      tag('p', text(`${company.phone} ${company.email}`)),
      tag('p', text(`${words.license(company.licenseNumber)} ${company.regulatorLine}`)),
    ]),
    tag('h2', text(words.title(paper.quoteNumber, paper.revision))),
    tag('p', text(`${words.issued(paper.issuedText)} ${words.validUntil(paper.validUntilText)}`)),
    tag('p', text(paper.summary)),
    tag('h3', text(words.preparedFor)),
    tag('p', text(paper.customer.name)),
    tag('h3', text(words.serviceAddress)),
    tag('p', [address(paper.site.address), ' ', text(words.occupant(paper.site.occupant))]),
    tag('h3', text(words.equipment)),
    ...paper.systems.map(({ name, model, nameplate }) =>
      tag('dl', [
        tag('dt', text(`${name} ${model ?? ''}`)),
        ...nameplate.map((fact) => tag('dd', text(`${fact.label}: ${fact.text}`))),
      ]),
    ),
    tag('h2', text(words.findings)),
    ...paper.findings.map(finding),
    tag('h2', text(words.options[paper.options.length === 1 ? 'one' : 'several'])),
    ...paper.options.map(option),
    tag('h3', text(words.declineHeading)),
    tag('p', text(words.declineText(formatCents(decline.totalCents)))),
    tag('h3', text(words.cautions)),
    list(paper.cautions),
    tag('h3', text(words.legal)),
    ...paper.legalTexts.map((legal) =>
      tag('p', [tag('b', text(legal.title)), ' ', text(legal.text)]),
    ),
    tag('h3', text(words.answer)),
    tag('p', text(words.answerText(paper.quoteNumber, paper.revision))),
    ...paper.options.map(({ letter, title, totalCents }) =>
      tag('p', text(`☐ ${words.acceptLine(letter, title, formatCents(totalCents))}`)),
    ),
    tag('p', text(`☐ ${words.declineLine(formatCents(decline.totalCents))}`)),
    tag('p', text(`${words.name} ______ ${words.signature} ______ ${words.date} ______`)),
    tag('p', text(`${words.contentHash} ${paper.contentHash}`)),
  ];
  const head = `<meta charset="utf-8"><title>${text(paper.quoteNumber)}</title><style>${STYLE}</style>`;
  return `<!doctype html><html lang="en"><head>${head}</head><body>${body.join('')}</body></html>`;
}

function finding(found: PaperFinding): string {
  return tag('section', [
    tag('h3', text(`${found.name}: ${words.standing[found.standing]}`)),
    tag('p', text(found.explanation)),
    ...found.measurements.map((measured) =>
      tag('figure', [
        gauge(measured),
        tag(
          'figcaption',
          text(
            `${measured.label}: ${measured.value.toFixed(measured.decimals)} ${measured.unit}, ` +
              `${words.verdict[measured.verdict]}. ${measured.limitText}`,
          ),
        ),
      ]),
    ),
    list(found.observations),
    list(found.doubts),
    list(found.cautions),
  ]);
}

/** A bar with its allowed band and the value, as the paper draws one. */
function gauge({ value, low, high }: PaperFinding['measurements'][number]): string {
  const top = Math.max(value, high ?? 0, low ?? 0) * 1.2;
  const x = (at: number) => ((at / top) * 300).toFixed(1);
  const from = low ?? 0;
  const band = `<rect x="${x(from)}" y="4" width="${x((high ?? top) - from)}" height="8" fill="#bcd"/>`;
  const bar = `<rect x="0" y="7" width="300" height="2" fill="#999"/>`;
  const mark = `<circle cx="${x(value)}" cy="8" r="5" fill="#123"/>`;
  return `<svg width="300" height="16">${bar}${band}${mark}</svg>`;
}

function option({ letter, title, explanation, prices, taxes, totalCents }: PaperOption): string {
  const rows = prices.groups.flatMap(({ heading, lines }) => [
    tag('tr', tag('th', text(heading), 'colspan="3"')),
    ...lines.map(line),
  ]);
  const before = prices.kind === 'separated' ? prices.subtotalCents : prices.priceCents;
  const sums = [
    sum(words.subtotal, before),
    ...taxes.map(({ label, amountCents }) => sum(label, amountCents)),
    sum(words.total, totalCents),
  ];
  return tag('section', [
    tag('h3', text(words.option(letter, title))),
    tag('p', text(explanation ?? '')),
    tag('table', [...rows, ...sums]),
  ]);
}

function line({
  description,
  detail,
  quantityText,
  ...priced
}: PaperLine | PaperPricedLine): string {
  const amount = 'amountCents' in priced ? formatCents(priced.amountCents) : '';
  const each =
    'unitPriceCents' in priced && priced.unitPriceCents !== undefined
      ? ` × ${formatCents(priced.unitPriceCents)}`
      : '';
  return tag('tr', [
    tag('td', [text(description), tag('small', text(detail ?? ''))]),
    tag('td', text(`${quantityText ?? ''}${each}`)),
    tag('td', text(amount), 'class="amount"'),
  ]);
}

function sum(label: string, amountCents: number): string {
  return tag('tr', [
    tag('td', text(label), 'colspan="2"'),
    tag('td', text(formatCents(amountCents)), 'class="amount"'),
  ]);
}

function list(items: readonly string[]): string {
  return tag(
    'ul',
    items.map((item) => tag('li', text(item))),
  );
}

function address({ street, city, region, postalCode }: PaperAddress): string {
  return text(`${street}, ${city}, ${region} ${postalCode}`);
}

function tag(name: string, content: string | string[], attributes = ''): string {
  const inner = Array.isArray(content) ? content.join('') : content;
  return `<${name}${attributes === '' ? '' : ` ${attributes}`}>${inner}</${name}>`;
}

function text(raw: string): string {
  return raw.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;');
}

const STYLE = `@page { size: letter; margin: 0.75in }
body { font: 11pt/1.45 sans-serif } h1 { font-size: 18pt } table { width: 100%; border-collapse: collapse }
td, th { border-bottom: 1px solid #ccc; padding: 6px 4px; text-align: left; vertical-align: top }
small { display: block; color: #555 } .amount { text-align: right } section { break-inside: auto }`;
