import { createHash } from 'node:crypto';
import { beforeAll, describe, expect, it } from 'vitest';
import {
  formatCents,
  type InvoicePaper,
  type Paper,
  type PaperAttachment,
  PaperRefused,
  renderPaper,
} from '../../src/documents/index.ts';
import { createMeasureText } from '../../src/documents/measure-text.ts';
import type { PagePlan, Tag, TextInk } from '../../src/documents/page-plan.ts';
import { PAGE } from '../../src/documents/paper-style.ts';
import { planPaper } from '../../src/documents/plan-paper.ts';
import { checkTaggedPdf } from './check-tagged-pdf.ts';
import { type PageText, readPageTexts, readPdf, squeeze } from './read-pdf.ts';
import { saidBy } from './said-by.ts';
import {
  acceptance,
  acceptedChange,
  acceptedLumpSum,
  creditMemo,
  creditMemoOfTax,
  decline,
  declinedChange,
  invoice,
  sampleKinds,
  workRecord,
} from './sample-kinds.ts';

const pageUrl = `https://evenhand.example/paper/${'0123456789abcdef'.repeat(4)}`;
const measure = createMeasureText();

function sha256(bytes: Uint8Array): string {
  return createHash('sha256').update(bytes).digest('hex');
}

async function bodyOf(paper: Paper): Promise<string> {
  const pages = await readPageTexts(await renderPaper({ paper, pageUrl, attachments: [] }));
  return pages.map(({ body }) => body).join(' ');
}

describe.each(Object.entries(sampleKinds))('the paper %s', (_, paper) => {
  let bytes: Uint8Array;
  let pages: PageText[];

  beforeAll(async () => {
    bytes = await renderPaper({ paper, pageUrl, attachments: [] });
    pages = await readPageTexts(bytes);
  });

  it('breaks no rule of PDF/UA-1 that our checker knows', async () => {
    expect(await checkTaggedPdf(bytes)).toEqual([]);
  });

  it('says everything it holds, in the order a person reads it', () => {
    const body = pages.map((page) => page.body).join(' ');
    let position = 0;
    for (const text of saidBy(paper)) {
      if (text === undefined) continue;
      const found = body.indexOf(squeeze(text.replaceAll('µ', 'μ')), position);
      expect(
        found,
        `'${text}' after '${body.slice(Math.max(0, position - 60), position)}'`,
      ).not.toBe(-1);
      position = found;
    }
  });

  it('numbers its pages and names the company on each', () => {
    const { language, company } = paper.paper;
    pages.forEach((page, index) => {
      const numbered =
        language === 'en'
          ? `Page ${index + 1} of ${pages.length}`
          : `Página ${index + 1} de ${pages.length}`;
      expect(page.artifacts).toContain(numbered);
      expect(page.artifacts).toContain(company.name);
    });
  });

  it('keeps all text inside the margins and no two texts over each other', () => {
    for (const texts of textsByPage(planOf(paper))) {
      const boxes = texts.map(boxOf);
      boxes.forEach((one, index) => {
        expect(one.left, one.text).toBeGreaterThanOrEqual(PAGE.leftPt - 0.01);
        expect(one.right, one.text).toBeLessThanOrEqual(PAGE.leftPt + PAGE.contentWidthPt + 0.01);
        for (const other of boxes.slice(index + 1)) {
          const isApart =
            one.right <= other.left + 0.01 ||
            other.right <= one.left + 0.01 ||
            one.bottom <= other.top ||
            other.bottom <= one.top;
          expect(isApart, `'${one.text}' and '${other.text}'`).toBe(true);
        }
      });
    }
  });

  it('comes out as the same bytes again', async () => {
    expect(sha256(await renderPaper({ paper, pageUrl, attachments: [] }))).toBe(sha256(bytes));
  });
});

function planOf(paper: Paper): PagePlan {
  return planPaper(paper, { measure, pageUrl, clean: (raw) => raw.replaceAll('µ', 'μ') });
}

function textsByPage({ root, pages }: PagePlan): TextInk[][] {
  const texts = pages.map(({ footer, repeatedHeader }) =>
    [...footer, ...repeatedHeader].filter((ink) => ink.kind === 'text'),
  );
  const walk = (owner: Tag): void => {
    for (const child of owner.children) {
      if (child.kind === 'tag') walk(child);
      else texts[child.pageIndex]?.push(...child.inks.filter((ink) => ink.kind === 'text'));
    }
  };
  walk(root);
  return texts;
}

function boxOf({ text, xPt, baselinePt, style }: TextInk) {
  return {
    text,
    left: xPt,
    right: xPt + measure(text.trimEnd(), style),
    top: baselinePt - 0.6 * style.sizePt,
    bottom: baselinePt + 0.15 * style.sizePt,
  };
}

describe('the receipt of a yes', () => {
  it('says by whom it was recorded where the customer did not give it alone', async () => {
    expect(await bodyOf({ kind: 'acceptance', paper: acceptance })).toContain(
      'Given at your own link',
    );
    expect(await bodyOf({ kind: 'acceptance', paper: acceptedChange })).toContain(
      'Told to us and recorded by Rowan Pike',
    );
    expect(await bodyOf({ kind: 'acceptance', paper: acceptedLumpSum })).toContain(
      'Signed on paper and recorded by Rowan Pike',
    );
  });

  it('shows what was agreed before beside a change to it', async () => {
    const body = await bodyOf({ kind: 'acceptance', paper: acceptedChange });
    expect(body).toContain('Together with quote Q-10010 $403.70');
  });

  it('shows no price but the one where the quote showed one price', async () => {
    const body = await bodyOf({ kind: 'acceptance', paper: acceptedLumpSum });
    const { totalCents } = acceptedLumpSum.option;
    expect(new Set(body.match(/−?\$[\d,]+\.\d\d/g))).toEqual(new Set([formatCents(totalCents)]));
  });

  it('speaks of a right to cancel only where there is one', async () => {
    expect(await bodyOf({ kind: 'acceptance', paper: acceptance })).toContain(
      'You may cancel what you agreed to until the end of July 17, 2026.',
    );
    expect(await bodyOf({ kind: 'acceptance', paper: acceptedChange })).not.toContain(
      'until the end',
    );
  });
});

describe('the paper of a no', () => {
  it('warns of the danger and says how the system was left before it says anything else', async () => {
    const pages = await readPageTexts(
      await renderPaper({ paper: { kind: 'decline', paper: decline }, attachments: [] }),
    );
    const [first] = pages;
    expect(first?.body).toContain(`We warned you of a danger ${decline.dangerWarned}`);
    expect(first?.body).toContain(`How we left the system ${decline.conditionLeft}`);
  });

  it('asks for nothing where it leaves an accepted quote as it was', async () => {
    const body = await bodyOf({ kind: 'decline', paper: declinedChange });
    expect(body).toContain('Nothing is added. Quote Q-10010 for $290.45 stands.');
    expect(body).not.toMatch(/\bfor the visit\b|visit costs/);
  });
});

describe('the record of the work', () => {
  it('names both moments of a pair of readings, for the eye and for the ear', async () => {
    const bytes = await renderPaper({
      paper: { kind: 'work_record', paper: workRecord },
      attachments: [],
    });
    const [first] = await readPageTexts(bytes);
    expect(first?.body).toContain('Before 40.5 47.7 31.2 μF ± 0.9 Outside limits');
    expect(first?.body).toContain('After 40.5 47.7 45.3 μF ± 1.4 Within limits');
    const alts = textOfAlts(planOf({ kind: 'work_record', paper: workRecord }).root);
    expect(alts[0]).toMatch(/^Capacitor, compressor side, before the work: measured 31\.2/);
    expect(alts[1]).toMatch(/^Capacitor, compressor side, after the work: measured 45\.3/);
  });
});

function textOfAlts(owner: Tag): string[] {
  const own = owner.meaning.alt === undefined ? [] : [owner.meaning.alt];
  return [
    ...own,
    ...owner.children.flatMap((child) => (child.kind === 'tag' ? textOfAlts(child) : [])),
  ];
}

describe('a paper that contradicts itself', () => {
  const [document] = invoice.documents;
  if (document === undefined) throw new Error('the sample invoice has lost its documents');
  const altered = (change: Partial<InvoicePaper>): Paper => ({
    kind: 'invoice',
    paper: { ...invoice, ...change },
  });
  const [work] = workRecord.works;
  const [pair] = work?.readings ?? [];
  const [, other] = work?.readings ?? [];
  if (work === undefined || !pair?.before || !other?.after) {
    throw new Error('the sample record has lost its readings');
  }
  const refusals: [string, Paper, RegExp][] = [
    ['an invoice of another total', altered({ totalCents: 22_338 }), /All documents: .* 22338\./],
    ['an invoice of another tax', altered({ taxCents: 0 }), /The tax of all documents: .*says 0\./],
    [
      'a document of another total',
      altered({ documents: [{ ...document, totalCents: 1 }], taxCents: 1_144, totalCents: 1 }),
      /Document 1: the lines come to 15012 cents, the paper says 1\./,
    ],
    ['an invoice of no day', altered({ issuedAt: 'soon' }), /not a date: 'soon'/],
    [
      'a credit memo of another total',
      { kind: 'credit_memo', paper: { ...creditMemo, totalCents: 0 } },
      /All documents: the lines come to 15012 cents, the paper says 0\./,
    ],
    [
      'a yes to another total',
      {
        kind: 'acceptance',
        paper: { ...acceptance, option: { ...acceptance.option, totalCents: 1 } },
      },
      /Option A: .* says 1\./,
    ],
    [
      'a no that owes another amount',
      {
        kind: 'decline',
        paper: { ...decline, decline: { ...decline.decline, totalCents: 1 } },
      },
      /Declining: .* says 1\./,
    ],
    [
      'readings of two different things as one before and after',
      {
        kind: 'work_record',
        paper: {
          ...workRecord,
          works: [{ ...work, readings: [{ before: pair.before, after: other.after }] }],
        },
      },
      /'Capacitor, compressor side' in µF before is not 'Voltage lost/,
    ],
  ];

  it.each(refusals)('is refused: %s', async (_, paper, sentence) => {
    const drawn = renderPaper({ paper, attachments: [] });
    await expect(drawn).rejects.toThrow(PaperRefused);
    await expect(drawn).rejects.toThrow(sentence);
  });
});

describe('files attached to a paper', () => {
  const attachments: PaperAttachment[] = [
    {
      name: 'invoice-2107.json.jws',
      mediaType: 'application/jose',
      description: 'Its signature',
      relationship: 'Supplement',
      bytes: Buffer.from('signed'),
    },
    {
      name: 'invoice-2107.json',
      mediaType: 'application/json',
      description: 'What this paper says, as data',
      relationship: 'Data',
      bytes: Buffer.from('{"total":1}'),
    },
  ];
  const paper: Paper = { kind: 'invoice', paper: invoice };

  it('leave the file sound, and the same in whatever order they are given', async () => {
    const bytes = await renderPaper({ paper, pageUrl, attachments });
    expect(await checkTaggedPdf(bytes)).toEqual([]);
    const turned = await renderPaper({ paper, pageUrl, attachments: [...attachments].reverse() });
    expect(sha256(turned)).toBe(sha256(bytes));
  });

  it('are named in the file with what they are to it', async () => {
    const { catalog } = await readPdf(await renderPaper({ paper, pageUrl, attachments }));
    const associated = catalog.get('AF');
    const files = typeof associated === 'object' && 'items' in associated ? associated.items : [];
    const named = files.map((file) =>
      typeof file === 'object' && 'get' in file
        ? [file.get('F'), file.get('UF'), file.get('AFRelationship'), file.get('Desc')]
        : [],
    );
    expect(named).toEqual([
      ['invoice-2107.json', 'invoice-2107.json', 'Data', 'What this paper says, as data'],
      ['invoice-2107.json.jws', 'invoice-2107.json.jws', 'Supplement', 'Its signature'],
    ]);
  });
});

describe('a credit memo', () => {
  it('of a tax alone says so: the tax is its line, under no sum of charges that nobody gave back', async () => {
    const body = await bodyOf({ kind: 'credit_memo', paper: creditMemoOfTax });
    for (const said of ['Tax taken off', 'now $9.94 instead of $14.76', 'The sales tax was more']) {
      expect(body).toContain(squeeze(said));
    }
    for (const not of ['Subtotal before tax', 'Work and parts', 'Taken off, with tax', '$0.00']) {
      expect(body).not.toContain(squeeze(not));
    }
  });

  it('without tax speaks of none', async () => {
    const [document] = creditMemo.documents;
    if (document === undefined) throw new Error('the sample credits something');
    const untaxed = { ...document, taxes: [], totalCents: document.totalCents - 1_144 };
    const { totalCents } = untaxed;
    const paper = { ...creditMemo, documents: [untaxed], taxCents: 0, totalCents };
    const body = await bodyOf({ kind: 'credit_memo', paper });
    expect(body).toContain(squeeze(`Taken off ${formatCents(totalCents)}`));
    expect(body).not.toMatch(/tax/i);
  });

  it('of a job with one price calls what it takes off a part of that price, not the price', async () => {
    const documents = [
      {
        position: 1,
        title: 'Quote 1002, as accepted',
        prices: {
          kind: 'lump_sum' as const,
          lines: [{ description: 'Capacitor' }],
          priceCents: 900,
        },
        taxes: [{ label: 'Sales tax', amountCents: 50 }],
        totalCents: 950,
      },
    ];
    const paper = { ...creditMemo, documents, taxCents: 50, totalCents: 950 };
    const body = await bodyOf({ kind: 'credit_memo', paper });
    expect(body).toContain(squeeze('Taken off the one price for this work $9.00'));
    expect(body).not.toContain(squeeze('One price for all of the above'));
  });
});
