import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { assertQuoteAddsUp } from '../../src/documents/assert-quote-adds-up.ts';
import {
  type PaperMeasurement,
  type PaperOption,
  PaperRefused,
  type QuotePaper,
} from '../../src/documents/index.ts';
import { printQuote } from './print-quote.ts';
import { capacitorAndContactor, lumpSum, samplePapers } from './sample-papers.ts';

const option = first(capacitorAndContactor.options);
const lumpSumOption = first(lumpSum.options);
const finding = first(capacitorAndContactor.findings);
const measurement = first(finding.measurements);
const prices = separated(option);

function first<Item>(items: readonly Item[]): Item {
  const [item] = items;
  if (item === undefined) throw new Error('The sample paper has lost what this test alters.');
  return item;
}

function separated({ prices }: PaperOption) {
  if (prices.kind !== 'separated') throw new Error('The sample shows separate prices.');
  return prices;
}

function withOption(altered: Partial<PaperOption>): QuotePaper {
  return { ...capacitorAndContactor, options: [{ ...option, ...altered }] };
}

function withMeasurement(altered: Partial<PaperMeasurement>): QuotePaper {
  const measurements = [{ ...measurement, ...altered }];
  return { ...capacitorAndContactor, findings: [{ ...finding, measurements }] };
}

describe('a paper that contradicts itself', () => {
  const refusals: [string, QuotePaper, RegExp][] = [
    [
      'lines that miss the subtotal by a cent',
      withOption({ prices: { ...prices, subtotalCents: prices.subtotalCents + 1 } }),
      /35298 cents, the paper says 35299/,
    ],
    [
      'a tax that misses the total by a cent',
      withOption({ totalCents: option.totalCents - 1 }),
      /38210 cents, the paper says 38209/,
    ],
    [
      'a lump sum that is not its total',
      { ...lumpSum, options: [{ ...lumpSumOption, totalCents: 1 }] },
      /the paper says 1/,
    ],
    [
      'a price of declining that is not its parts',
      { ...capacitorAndContactor, decline: { amounts: [], totalCents: 8_900 } },
      /Declining/,
    ],
    ['half a cent', withOption({ taxes: [{ label: 'Tax', amountCents: 0.5 }] }), /whole number/],
    ['no option', { ...capacitorAndContactor, options: [] }, /one to three options/],
    [
      'four options',
      {
        ...capacitorAndContactor,
        options: ['A', 'B', 'C', 'D'].map((letter) => ({ ...option, letter })),
      },
      /one to three options/,
    ],
    [
      'two options of one letter',
      { ...capacitorAndContactor, options: [option, option] },
      /share a letter/,
    ],
    ['a revision before the first', { ...capacitorAndContactor, revision: 0 }, /counted from 1/],
    ['no instant of issue', { ...capacitorAndContactor, issuedAt: 'yesterday' }, /not a date/],
    ['limits the wrong way around', withMeasurement({ low: 50, high: 40 }), /lower limit above/],
    ['a reading that is no number', withMeasurement({ value: Number.NaN }), /cannot be drawn/],
    ['a negative uncertainty', withMeasurement({ uncertainty: -1 }), /negative uncertainty/],
    ['half a decimal', withMeasurement({ decimals: 1.5 }), /decimals/],
  ];

  it.each(refusals)('is refused: %s', async (_, paper, message) => {
    expect(() => assertQuoteAddsUp(paper)).toThrow(PaperRefused);
    expect(() => assertQuoteAddsUp(paper)).toThrow(message);
    await expect(printQuote(paper)).rejects.toThrow(PaperRefused);
  });

  it('is told from one that adds up', () => {
    for (const paper of Object.values(samplePapers)) assertQuoteAddsUp(paper);
  });

  it('is refused for any error of any size, however large the amounts', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: -(10 ** 12), max: 10 ** 12 }), { minLength: 1, maxLength: 50 }),
        fc.integer({ min: -1000, max: 1000 }),
        (amounts, errorCents) => {
          const subtotalCents =
            amounts.reduce((sum, amountCents) => sum + amountCents, 0) + errorCents;
          const lines = amounts.map((amountCents) => ({ description: 'Line', amountCents }));
          const paper = withOption({
            prices: { kind: 'separated', groups: [{ heading: 'Lines', lines }], subtotalCents },
            taxes: [],
            totalCents: subtotalCents,
          });
          if (errorCents === 0) assertQuoteAddsUp(paper);
          else expect(() => assertQuoteAddsUp(paper)).toThrow(PaperRefused);
        },
      ),
    );
  });
});
