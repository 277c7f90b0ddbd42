import { describe, expect, it } from 'vitest';
import { cleanQuotePaper } from '../../src/documents/clean-quote-paper.ts';
import type { QuotePaper } from '../../src/documents/index.ts';
import { createMeasureText } from '../../src/documents/measure-text.ts';
import type { PagePlan, Tag, TextInk } from '../../src/documents/page-plan.ts';
import { drawableText, plainFaces } from '../../src/documents/paper-faces.ts';
import { PAGE } from '../../src/documents/paper-style.ts';
import { paperText } from '../../src/documents/paper-text.ts';
import { planQuote } from '../../src/documents/plan-quote.ts';
import { capacitorAndContactor, paperWithLines, samplePapers } from './sample-papers.ts';

const measure = createMeasureText();

function plan(paper: QuotePaper): PagePlan {
  return planQuote(
    cleanQuotePaper(paper, (raw, lengthMax) =>
      drawableText(paperText(raw, lengthMax), plainFaces()),
    ),
    { measure },
  );
}

/** All text on each page: content, footer and repeated header. */
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
  const widthPt = measure(text.trimEnd(), style);
  return {
    left: xPt,
    right: xPt + widthPt,
    top: baselinePt - 0.6 * style.sizePt,
    bottom: baselinePt + 0.15 * style.sizePt,
  };
}

it('says of a visit without a fee that a no costs nothing, and never “$0.00”', () => {
  const paper = { ...capacitorAndContactor, decline: { amounts: [], totalCents: 0 } };
  const said = textsByPage(plan(paper))
    .flatMap((page) => page.map(({ text }) => text))
    .join(' ')
    .replace(/\s+/g, ' ');
  expect(said).toContain('You pay nothing.');
  expect(said).toContain('No, not now. I pay nothing');
  expect(said).not.toMatch(/pay \$0\.00/);
});

/** A paper of the longest and largest that the data allows. */
const extreme: QuotePaper = {
  ...capacitorAndContactor,
  company: { ...capacitorAndContactor.company, name: 'W'.repeat(300), email: 'm'.repeat(300) },
  summary: 'Very long words and sentences. '.repeat(60),
  customer: { name: 'Q'.repeat(300), address: capacitorAndContactor.site.address },
  findings: capacitorAndContactor.findings.map((finding) => ({
    ...finding,
    name: `${finding.name} ${'and more '.repeat(30)}`,
    measurements: finding.measurements.map((measurement) => ({
      ...measurement,
      label: 'Label '.repeat(40),
      value: 123_456.789,
      decimals: 3,
      unit: 'in. w.c.',
    })),
  })),
  options: [
    {
      letter: 'A',
      title: 'Title '.repeat(60),
      prices: {
        kind: 'separated',
        groups: [
          {
            heading: 'Heading '.repeat(40),
            lines: [
              {
                description: 'Description'.repeat(40),
                detail: 'Detail '.repeat(60),
                quantityText: '1,000,000.25 h',
                unitPriceCents: 900_719_925_474_099,
                amountCents: 9_007_199_254_740_000,
              },
              { description: 'Nothing', amountCents: 0 },
            ],
          },
        ],
        subtotalCents: 9_007_199_254_740_000,
      },
      taxes: [{ label: 'Tax '.repeat(60), amountCents: 0 }],
      totalCents: 9_007_199_254_740_000,
    },
  ],
  legalTexts: [{ title: 'Long', text: `${'A long sentence of the law. '.repeat(600)}\nThe end.` }],
};

describe('the layout of a quote', () => {
  const papers: Record<string, QuotePaper> = { ...samplePapers, extreme };

  it.each(Object.entries(papers))('keeps all text of %s inside the margins', (_, paper) => {
    for (const texts of textsByPage(plan(paper))) {
      for (const ink of texts) {
        const { left, right, top, bottom } = boxOf(ink);
        expect(left, ink.text).toBeGreaterThanOrEqual(PAGE.leftPt - 0.01);
        expect(right, ink.text).toBeLessThanOrEqual(PAGE.leftPt + PAGE.contentWidthPt + 0.01);
        expect(top, ink.text).toBeGreaterThanOrEqual(PAGE.topPt - 1);
        expect(bottom, ink.text).toBeLessThanOrEqual(PAGE.heightPt - 30);
      }
    }
  });

  it.each(Object.entries(papers))('lets no two texts of %s run into each other', (_, paper) => {
    for (const texts of textsByPage(plan(paper))) {
      const boxes = texts.map(boxOf);
      boxes.forEach((one, index) => {
        boxes.slice(index + 1).forEach((other, offset) => {
          const apart =
            one.right <= other.left + 0.01 ||
            other.right <= one.left + 0.01 ||
            one.bottom <= other.top ||
            other.bottom <= one.top;
          const names = `'${texts[index]?.text}' and '${texts[index + 1 + offset]?.text}'`;
          expect(apart, names).toBe(true);
        });
      });
    }
  });

  it('never leaves a total alone: two lines at least stand above it on its page', () => {
    for (let lineCount = 2; lineCount <= 200; lineCount += 1) {
      const pages = textsByPage(plan(paperWithLines(lineCount)));
      const page = pages.find((texts) => texts.some(({ text }) => text === 'Subtotal before tax'));
      const lines = page?.filter(({ text }) => /^Line \d+:/.test(text)) ?? [];
      expect(lines.length, `${lineCount} lines`).toBeGreaterThanOrEqual(2);
      expect(page?.filter(({ text }) => text === 'Total')).toHaveLength(1);
    }
  }, 30_000);

  it('aligns every amount of a table on its right edge, the total included', () => {
    const amounts = textsByPage(plan(capacitorAndContactor))
      .flat()
      .filter(({ text }) => /^−?\$[\d,]+\.\d\d$/.test(text));
    expect(amounts.length).toBeGreaterThan(10);
    const edges = new Set(amounts.map((ink) => boxOf(ink).right.toFixed(3)));
    expect([...edges]).toEqual([(PAGE.leftPt + PAGE.contentWidthPt).toFixed(3)]);
  });
});
