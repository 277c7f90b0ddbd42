import { execFile } from 'node:child_process';
import { createHash } from 'node:crypto';
import { promisify } from 'node:util';
import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { formatCents, type QuotePaper } from '../../src/documents/index.ts';
import { createMeasureText } from '../../src/documents/measure-text.ts';
import { PaperRefused } from '../../src/documents/paper-refused.ts';
import { TYPE } from '../../src/documents/paper-style.ts';
import { checkTaggedPdf } from './check-tagged-pdf.ts';
import { printQuote } from './print-quote.ts';
import { type PageText, readPageTexts, readPdf } from './read-pdf.ts';
import {
  breakerReset,
  capacitorAndContactor,
  changeOrder,
  lumpSum,
  paperWithLines,
  pluggedDrain,
  samplePapers,
  threeOptions,
  weighedGoods,
} from './sample-papers.ts';

function sha256(bytes: Uint8Array): string {
  return createHash('sha256').update(bytes).digest('hex');
}

function bodyOf(pages: readonly PageText[]): string {
  return pages.map((page) => page.body).join(' ');
}

/** Fails with the first text that does not follow the ones before it. */
function expectInOrder(text: string, expected: readonly string[]): void {
  let position = 0;
  for (const piece of expected) {
    const found = text.indexOf(piece, position);
    expect(
      found,
      `'${piece}' after '${text.slice(Math.max(0, position - 60), position)}'`,
    ).toBeGreaterThanOrEqual(position);
    position = found + piece.length;
  }
}

/** Paper text spells micro with the Greek letter. */
function asPrinted(text: string): string {
  return text.replaceAll('µ', 'μ');
}

/** Everything the customer must be able to read, in the order it is to be read. */
function readingOrder(paper: QuotePaper): string[] {
  const { company, site } = paper;
  return [
    company.name,
    company.address.street,
    company.phone,
    company.email,
    company.licenseNumber,
    company.regulatorLine,
    titleOf(paper),
    paper.quoteNumber,
    `revision ${paper.revision}`,
    paper.issuedText,
    paper.validUntilText,
    paper.summary,
    ...paper.options.flatMap(({ totalCents }) => [
      formatCents(totalCents),
      ...together(paper, totalCents),
    ]),
    formatCents(paper.decline.totalCents),
    paper.customer.name,
    ...(paper.customer.address ? [paper.customer.address.street] : []),
    site.address.street,
    site.occupant,
    ...paper.systems.flatMap(({ name, model, nameplate }) => [
      name,
      ...(model ? [model] : []),
      ...nameplate.flatMap(({ label, text }) => [label, text]),
    ]),
    ...paper.findings.flatMap((finding) => [
      finding.name,
      finding.explanation,
      ...finding.measurements.flatMap(({ label, limitText, value, decimals, unit }) => [
        label,
        limitText,
        value.toFixed(decimals),
        unit,
      ]),
      ...finding.observations,
      ...finding.doubts,
      ...finding.cautions,
    ]),
    ...paper.options.flatMap((option) => [
      ...pricesInOrder(option),
      ...together(paper, option.totalCents),
    ]),
    'If you say no',
    saidOfNo(paper),
    ...paper.cautions,
    ...paper.legalTexts.flatMap(({ title, text }) => [title, ...text.split('\n')]),
    'Your answer',
    ...paper.options.flatMap(({ title, totalCents }) => [title, formatCents(totalCents)]),
    paper.changes === undefined ? formatCents(paper.decline.totalCents) : 'Nothing is added',
    'Signature',
    paper.contentHash,
  ].map(asPrinted);
}

function titleOf({ changes }: QuotePaper): string {
  return changes === undefined ? 'Repair quote' : `Change to quote ${changes.quoteNumber}`;
}

/** A change order beside what it changes. */
function together({ changes }: QuotePaper, totalCents: number): string[] {
  if (changes === undefined) return [];
  return [
    `Together with quote ${changes.quoteNumber}`,
    formatCents(changes.agreedCents + totalCents),
  ];
}

function saidOfNo({ changes, decline }: QuotePaper): string {
  return changes === undefined
    ? formatCents(decline.totalCents)
    : `Nothing is added. Quote ${changes.quoteNumber} for ${formatCents(changes.agreedCents)} stands.`;
}

function pricesInOrder({
  title,
  prices,
  taxes,
  totalCents,
}: QuotePaper['options'][number]): string[] {
  const lines =
    prices.kind === 'separated'
      ? prices.groups.flatMap(({ heading, lines }) => [
          heading,
          ...lines.flatMap(({ description, detail, amountCents }) => [
            description,
            ...(detail ? [detail] : []),
            formatCents(amountCents),
          ]),
        ])
      : prices.groups.flatMap(({ heading, lines }) => [
          heading,
          ...lines.flatMap(({ description, quantityText }) => [description, quantityText ?? '']),
        ]);
  return [
    title,
    ...lines,
    ...taxes.flatMap(({ label, amountCents }) => [label, formatCents(amountCents)]),
    formatCents(totalCents),
  ];
}

/** Total rows are found by their label; each is followed by its amount. */
function totalsOnPaper(text: string): string[] {
  return [...text.matchAll(/ Total (−?\$[\d,]+\.\d\d)/g)].map(([, amount]) => amount ?? '');
}

describe.each(Object.entries(samplePapers))('the sample paper %s', (_, paper) => {
  let bytes: Uint8Array;
  let pages: PageText[];

  beforeAll(async () => {
    bytes = await printQuote(paper);
    pages = await readPageTexts(bytes);
  });

  it('breaks no rule of PDF/UA-1 that our checker knows', async () => {
    expect(await checkTaggedPdf(bytes)).toEqual([]);
  });

  it('says everything the paper holds, in the order a person reads it', () => {
    expectInOrder(bodyOf(pages), readingOrder(paper));
  });

  it('states each total exactly as it was given', () => {
    expect(totalsOnPaper(bodyOf(pages))).toEqual(
      paper.options.map(({ totalCents }) => formatCents(totalCents)),
    );
  });

  it('numbers its pages, each with the quote it belongs to', () => {
    pages.forEach((page, index) => {
      expect(page.artifacts).toContain(`${paper.quoteNumber}, revision ${paper.revision}`);
      expect(page.artifacts).toContain(`Page ${index + 1} of ${pages.length}`);
      expect(page.body).not.toContain('Page ');
    });
  });

  it('comes out as the same bytes again', async () => {
    expect(sha256(await printQuote(paper))).toBe(sha256(bytes));
  });
});

describe('a breaker reset', () => {
  it('reads as what it is: the visit fee, nothing for the reset, and nothing else', async () => {
    const body = bodyOf(await readPageTexts(await printQuote(breakerReset)));
    expectInOrder(body, [
      'Visit fee, daytime',
      '$89.00',
      'Reset the breaker - no charge for labor',
      '$0.00',
      'Total $89.00',
    ]);
    expect(new Set(body.match(/−?\$[\d,]+\.\d\d/g))).toEqual(new Set(['$89.00', '$0.00']));
  });
});

describe('a lump-sum paper', () => {
  it('shows parts and minutes but no price other than the one and what no costs', async () => {
    const body = bodyOf(await readPageTexts(await printQuote(lumpSum)));
    expectInOrder(body, [
      'Replace the dual run capacitor',
      '30 min',
      'Replace the contactor',
      '45 min',
    ]);
    expect(new Set(body.match(/−?\$[\d,]+\.\d\d/g))).toEqual(
      new Set(['$382.10', '$96.34', '$89.00', '$7.34']),
    );
  });
});

describe('a paper with goods by the pound and a maintenance agreement', () => {
  it('shows how much it is beside its price, and each discount with its name', async () => {
    const body = bodyOf(await readPageTexts(await printQuote(weighedGoods)));
    expectInOrder(body, [
      'Refrigerant R-410A',
      '2.25 lb',
      '$81.38',
      'Discounts and credits',
      'Two visits a year: Visit fee',
      '−$22.25',
      'Two visits a year: Refrigerant R-410A',
      '−$8.14',
    ]);
  });

  it('takes the discount off the fee of a no in words that add up', async () => {
    const body = bodyOf(await readPageTexts(await printQuote(weighedGoods)));
    expect(body.replace(/\s+/g, ' ')).toContain(
      'Visit fee $89.00 − Two visits a year: Visit fee $22.25 + Sales tax $5.51 = $72.26',
    );
  });
});

describe('a paper of several options', () => {
  it('names each option by its letter wherever it is offered, priced or answered', async () => {
    const body = bodyOf(await readPageTexts(await printQuote(threeOptions)));
    for (const { letter, title } of threeOptions.options) {
      expect(body.split(`ption ${letter}: ${title}`).length - 1).toBe(3);
    }
  });

  it('keeps each option on one page, so that its lines and its total are one look', async () => {
    const pages = await readPageTexts(await printQuote(threeOptions));
    for (const { letter, title, totalCents } of threeOptions.options) {
      const page = pages.find(
        ({ body }) =>
          body.includes(`Option ${letter}: ${title}`) && body.includes('Work and parts'),
      );
      expect(page?.body).toContain(`Total ${formatCents(totalCents)}`);
    }
  });
});

describe('work that the evidence does not carry', () => {
  const offeredBecause = 'The owner saw it burnt on a photo.';
  const paperOf = (change: Partial<QuotePaper['findings'][number]>) => ({
    ...capacitorAndContactor,
    findings: capacitorAndContactor.findings.map((finding) => ({ ...finding, ...change })),
  });

  it('says what speaks against it and why it is offered all the same', async () => {
    const speaksAgainst = 'The winding reads sound.';
    const paper = paperOf({ standing: 'contradicted', speaksAgainst, offeredBecause });
    const body = bodyOf(await readPageTexts(await printQuote(paper)));
    expect(body).toContain(
      'The evidence speaks against it: The winding reads sound. The owner offers the work for this reason: The owner saw it burnt on a photo.',
    );
    expect(body).not.toContain('Not proven');
  });

  it('says that nothing settles it where that is so, with the reason', async () => {
    const paper = paperOf({ standing: 'unproven', offeredBecause });
    expect(bodyOf(await readPageTexts(await printQuote(paper)))).toContain(
      'The evidence does not settle it. The owner offers the work for this reason: The owner saw it burnt on a photo.',
    );
  });
});

describe('a long list', () => {
  it.each([40, 120, 200])(
    'of %d lines repeats its header on every page it runs over',
    async (lineCount) => {
      const pages = await readPageTexts(await printQuote(paperWithLines(lineCount)));
      const withLines = pages.filter(({ body }) => /Line \d+:/.test(body));
      expect(withLines.length).toBeGreaterThan(1);
      expect(withLines[0]?.body).toContain('Work and parts Quantity × price Amount');
      for (const page of withLines.slice(1)) {
        expect(page.artifacts).toContain('Work and parts Quantity × price Amount');
      }
      const numbers = [...bodyOf(pages).matchAll(/Line (\d+):/g)].map(([, number]) =>
        Number(number),
      );
      expect(numbers).toEqual(Array.from({ length: lineCount }, (_, index) => index + 1));
    },
  );
});

describe('any paper at all', () => {
  const names = fc.constantFrom(
    'Ann O\u2019Hara & Sons <heating>',
    'Ελένη Παπαδοπούλου',
    'Людмила Ґалаґан',
    'José Ñúñez-Żółć',
    'office staff, ffi fl',
    '李 小龍',
    '\u202Eevil\u0000',
    'W'.repeat(300),
  );
  const amounts = fc.oneof(
    fc.constant(0),
    fc.integer({ min: -500_000, max: 500_000 }),
    fc.constant(10 ** 13),
  );
  const papers = fc
    .record({
      name: names,
      amounts: fc.array(amounts, { minLength: 1, maxLength: 200 }),
      text: fc.string({ unit: 'binary', maxLength: 40 }),
    })
    .map(({ name, amounts, text }): QuotePaper => {
      const subtotalCents = amounts.reduce((sum, amountCents) => sum + amountCents, 0);
      const lines = amounts.map((amountCents) => ({
        description: name,
        detail: text,
        amountCents,
      }));
      return {
        ...capacitorAndContactor,
        company: { ...capacitorAndContactor.company, name },
        customer: { name },
        options: [
          {
            letter: 'A',
            title: name,
            prices: { kind: 'separated', groups: [{ heading: text, lines }], subtotalCents },
            taxes: [{ label: 'Tax', amountCents: 0 }],
            totalCents: subtotalCents,
          },
        ],
      };
    });

  it('is sound, adds up as printed, and never shows a character its font lacks', async () => {
    await fc.assert(
      fc.asyncProperty(papers, async (paper) => {
        const bytes = await printQuote(paper);
        expect(await checkTaggedPdf(bytes)).toEqual([]);
        const body = bodyOf(await readPageTexts(bytes));
        const [option] = paper.options;
        expect(totalsOnPaper(body)).toContain(formatCents(option?.totalCents ?? Number.NaN));
      }),
      { numRuns: 25 },
    );
  }, 60_000);

  it.each(['Ελένη Παπαδοπούλου', 'Людмила Ґалаґан', 'José Ñúñez-Żółć', 'Griffin Affleck, office'])(
    'gives the name %s back as it was written',
    async (name) => {
      const paper = { ...pluggedDrain, customer: { name } };
      expect(bodyOf(await readPageTexts(await printQuote(paper)))).toContain(name);
    },
  );

  it('shows a box for each character that no typeface has', async () => {
    const paper = { ...pluggedDrain, customer: { name: '𓀀 Lee' } };
    expect(bodyOf(await readPageTexts(await printQuote(paper)))).toContain('□ Lee');
  });

  it('sets amounts so that the decimal points of a column stand one below the other', () => {
    const measure = createMeasureText();
    const widths = new Set<string>();
    for (let cents = 0; cents < 100; cents += 1) {
      const amount = `1,234.${String(cents).padStart(2, '0')}`;
      const afterPoint = measure(amount, TYPE.body) - measure('1,234', TYPE.body);
      widths.add(afterPoint.toFixed(6));
    }
    expect(widths.size).toBe(1);
  });
});

/** The typefaces inside a file, each by its hash. */
function facesIn(bytes: Uint8Array): string[] {
  const text = Buffer.from(bytes).toString('latin1');
  const streams = text.matchAll(/\/Length1 \d+\n\/Length (\d+)\n>>\nstream\n/g);
  return Array.from(streams, ({ 0: head, 1: length, index }) =>
    sha256(bytes.subarray(index + head.length, index + head.length + Number(length))),
  );
}

describe('the bytes of a paper', () => {
  it('do not depend on which papers were printed before', async () => {
    const before = sha256(await printQuote(pluggedDrain));
    const greek = {
      ...pluggedDrain,
      summary: 'Ω Ω µ μ Δ ∆ ‑ - ﬁ fi ff ﬀ',
      customer: { name: 'Δημήτρης' },
    };
    await printQuote(greek);
    await printQuote(paperWithLines(50));
    expect(sha256(await printQuote(pluggedDrain))).toBe(before);
  });

  it('are the same in another process, in another time zone and language', async () => {
    const here = sha256(await printQuote(capacitorAndContactor));
    const script = `
      const { createHash } = await import('node:crypto');
      const { printQuote } = await import('./tests/documents/print-quote.ts');
      const { capacitorAndContactor, threeOptions } = await import('./tests/documents/sample-papers.ts');
      await printQuote({ ...threeOptions, summary: 'Ω ∆ µ ﬁ' });
      const bytes = await printQuote(capacitorAndContactor);
      process.stdout.write(createHash('sha256').update(bytes).digest('hex'));`;
    const { stdout } = await promisify(execFile)(
      process.execPath,
      ['--import', 'tsx', '--input-type=module', '--eval', script],
      { env: { ...process.env, TZ: 'Pacific/Chatham', LANG: 'de_DE.UTF-8' } },
    );
    expect(stdout).toBe(here);
  }, 30_000);

  it('are the same in whatever order papers are drawn by a new process', async () => {
    const script = (order: string) => `
      const { createHash } = await import('node:crypto');
      const { printQuote } = await import('./tests/documents/print-quote.ts');
      const { capacitorAndContactor, paperWithLines, pluggedDrain } = await import('./tests/documents/sample-papers.ts');
      // Rare letters, marks that stand beside their letters, ligatures reached in several ways.
      const rare = { ...pluggedDrain, summary: 'x\u0302 Ω ∆ µ ﬁ fi ff ﬀ ffi fft №', customer: { name: 'Δημήτρης Ґалаґан' } };
      const papers = { plain: capacitorAndContactor, rare, long: paperWithLines(120) };
      const hashes = {};
      for (const name of ${JSON.stringify(order.split(' '))}) {
        const hash = createHash('sha256').update(await printQuote(papers[name])).digest('hex');
        (hashes[name] ??= new Set()).add(hash);
      }
      const told = Object.entries(hashes).map(([name, each]) => [name, ...each].join(' ')).sort();
      process.stdout.write(told.join('\\n'));`;
    const told = await Promise.all(
      ['plain rare long plain', 'rare plain rare long rare', 'long long rare plain'].map(
        async (order) => {
          const { stdout } = await promisify(execFile)(process.execPath, [
            ...['--import', 'tsx', '--input-type=module', '--eval'],
            script(order),
          ]);
          return stdout;
        },
      ),
    );
    expect(told[0]?.split('\n').map((line) => line.split(' ').length)).toEqual([2, 2, 2]);
    expect(new Set(told).size).toBe(1);
  }, 60_000);

  it('hold one and the same cut of each typeface while the letters are usual ones', async () => {
    const [plain, spanish, greek] = await Promise.all(
      [
        capacitorAndContactor,
        { ...threeOptions, language: 'es' as const, customer: { name: 'José Ñúñez-Żółć' } },
        { ...capacitorAndContactor, customer: { name: 'Δημήτρης' } },
      ].map(async (paper) => facesIn(await printQuote(paper))),
    );
    expect(plain).toHaveLength(2);
    expect(greek).not.toEqual(plain);
    expect(spanish).not.toEqual(plain);
    const usual = { ...threeOptions, language: 'es' as const, customer: { name: 'José Ñúñez' } };
    expect(facesIn(await printQuote(usual))).toEqual(plain);
  });

  it('change with the paper', async () => {
    const altered = { ...capacitorAndContactor, issuedAt: '2026-07-14T20:41:08Z' };
    expect(sha256(await printQuote(altered))).not.toBe(
      sha256(await printQuote(capacitorAndContactor)),
    );
  });

  it('carry a title that is the quote, the company and nothing that breaks the metadata', async () => {
    const company = { ...capacitorAndContactor.company, name: 'Hale & Daughters <HVAC>' };
    const bytes = await printQuote({ ...capacitorAndContactor, company });
    const { infoTitle } = await readPdf(bytes);
    expect(infoTitle).toBe('Repair quote Q-10042, revision 1, from Hale + Daughters HVAC');
    expect(await checkTaggedPdf(bytes)).toEqual([]);
  });
});

describe('the paper of a change order', () => {
  it('never speaks of a visit to be paid, in English or Spanish', async () => {
    const english = bodyOf(await readPageTexts(await printQuote(changeOrder)));
    expect(english).not.toMatch(/\bfor the visit\b|Repair quote|the visit only/);
    const spanish = bodyOf(
      await readPageTexts(await printQuote({ ...changeOrder, language: 'es' })),
    );
    expect(spanish).toContain('Cambio al presupuesto Q-10010');
    expect(spanish).toContain('Junto con el presupuesto Q-10010 $403.70');
    expect(spanish).toContain(
      'No se agrega nada. El presupuesto Q-10010 por $290.45 sigue vigente.',
    );
    expect(spanish).not.toMatch(/por la visita|solo la visita|Presupuesto de reparación/);
  });

  it('names what was added before, where something was', async () => {
    const grown = { quoteNumber: 'Q-10010', agreedCents: 40_000, hasGrown: true };
    const paper = { ...changeOrder, changes: grown };
    const text = bodyOf(await readPageTexts(await printQuote(paper)));
    expect(text).toContain('Together with quote Q-10010 and what was added to it $513.25');
    expect(text).toContain('and what you added to it before, $400.00 in all, stand.');
  });

  it('is refused when a no would cost something', async () => {
    const decline = { amounts: [{ label: 'Visit', amountCents: 1 }], totalCents: 1 };
    await expect(printQuote({ ...changeOrder, decline })).rejects.toThrow(PaperRefused);
  });
});

describe('the lines to sign', () => {
  it('have what each option comes to on the same page, wherever they stand', async () => {
    // Papers of every length, so that the lines begin a page in some of them.
    const alone: number[] = [];
    for (let paragraphs = 0; paragraphs < 40; paragraphs += 1) {
      const text = Array.from({ length: paragraphs }, () => 'One more term.').join('\n');
      const legalTexts = [{ title: 'Terms', text: `First.\n${text}` }];
      const pages = await readPageTexts(await printQuote({ ...threeOptions, legalTexts }));
      const last = pages.at(-1)?.body ?? '';
      if (last.indexOf('Your answer') !== 0) continue;
      alone.push(paragraphs);
      for (const { title, totalCents } of threeOptions.options) {
        expect(last.slice(0, last.indexOf('Yes, option'))).toContain(title);
        expect(last.slice(0, last.indexOf('Yes, option'))).toContain(formatCents(totalCents));
      }
    }
    expect(alone.length).toBeGreaterThan(0);
  });
});
