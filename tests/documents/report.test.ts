import { beforeAll, describe, expect, it } from 'vitest';
import { plotTrend, type Report, renderReport } from '../../src/documents/index.ts';
import { createMeasureText } from '../../src/documents/measure-text.ts';
import { checkTaggedPdf } from './check-tagged-pdf.ts';
import {
  figuresIn,
  isDict,
  listOf,
  type PageText,
  readPageTexts,
  readPdf,
  squeeze,
} from './read-pdf.ts';

const plot = plotTrend(
  {
    title: 'Unproven lines by month',
    measure: 'Unproven lines',
    trials: 'Lines',
    months: Array.from({ length: 14 }, (_, at) => ({
      month: `${2025 + Math.floor(at / 12)}-${String(1 + (at % 12)).padStart(2, '0')}`,
      ...{ count: at, trials: 40, interval: [at / 80, (at + 8) / 60] as const },
    })),
  },
  createMeasureText(),
);

const report: Report = {
  company: {
    name: 'Wren Hollow Comfort',
    address: { street: '1 Mill Street', city: 'Wrenfield', region: 'QX', postalCode: '00000' },
    phone: '(555) 555-0100',
    email: 'office@example.com',
    licenseNumber: 'INVENTED-1',
    regulatorLine: 'Licensed by an invented board',
  },
  title: 'Bills looked at',
  facts: ['January to June 2026', 'made July 2, 2026'],
  lead: '412 jobs were looked at; on 9 of them something asks for a look.',
  createdAt: '2026-07-02T12:00:00.000Z',
  sections: [
    {
      heading: 'What was found',
      texts: [
        'A flag asks for a look at the job’s file.',
        'Zoë’s and Łukasz’s jobs are among them.',
      ],
      table: {
        columns: ['Rule', 'Jobs', 'To give back'],
        rows: Array.from({ length: 60 }, (_, at) => ({
          name: `Rule number ${at + 1}`,
          detail: `Ticket ${1000 + at}: what was found on it.`,
          cells: [String(at + 1), `$${at}.50`],
        })),
      },
    },
    { heading: plot.title, texts: [], plot },
  ],
};

describe('a report that the owner prints', () => {
  let bytes: Uint8Array;
  let pages: PageText[];

  beforeAll(async () => {
    bytes = await renderReport(report);
    pages = await readPageTexts(bytes);
  });

  it('breaks no rule of PDF/UA-1 that our checker knows', async () => {
    expect(await checkTaggedPdf(bytes)).toEqual([]);
  });

  it('says everything it holds, in the order a person reads it', () => {
    const body = squeeze(pages.map((page) => page.body).join(' '));
    const said = [
      ...[report.title, report.lead, 'What was found', ...(report.sections[0]?.texts ?? [])],
      ...['Rule number 1', 'Ticket 1000', '$0.50', 'Rule number 60', '$59.50'],
      'Unproven lines by month',
    ];
    let from = 0;
    for (const text of said) {
      const at = body.indexOf(squeeze(text), from);
      expect(at, text).toBeGreaterThanOrEqual(from);
      from = at;
    }
  });

  it('runs over pages with the head of its table again on each', () => {
    expect(pages.length).toBeGreaterThan(2);
    const [first, second] = pages;
    expect(first?.body).toContain('To give back');
    expect(second?.artifacts).toContain('To give back');
  });

  it('tells in words what its plot shows', async () => {
    const root = (await readPdf(bytes)).catalog.get('StructTreeRoot');
    const figures = isDict(root) ? listOf(root.get('K')).filter(isDict).flatMap(figuresIn) : [];
    expect(figures.map((figure) => figure.get('Alt'))).toEqual([
      `${plot.title}. ${plot.description}`,
    ]);
  });

  it('is the same to the byte when it is printed again', async () => {
    expect(Buffer.from(await renderReport(report)).equals(Buffer.from(bytes))).toBe(true);
  });
});
