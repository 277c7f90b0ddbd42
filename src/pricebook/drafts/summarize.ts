import type { DraftPreview, PreviewedOption } from './contract.ts';

interface Difference {
  quoteNumber: number;
  position: number;
  cents: number;
  percent: string | null;
}

/** What the differences of all options come to. */
export function summarize(
  quotes: readonly { number: number; options: readonly PreviewedOption[] }[],
): DraftPreview['summary'] {
  const options = quotes.flatMap(({ number, options }) =>
    options.map((option) => ({ quoteNumber: number, ...option })),
  );
  const differences = options.flatMap(
    ({ quoteNumber, position, differenceCents, percent }): Difference[] =>
      differenceCents === null ? [] : [{ quoteNumber, position, cents: differenceCents, percent }],
  );
  const sorted = differences.toSorted((a, b) => a.cents - b.cents);
  const middle = sorted[Math.floor((sorted.length - 1) / 2)];
  return {
    optionsPriced: differences.length,
    optionsNotPriced: options.length - differences.length,
    up: differences.filter(({ cents }) => cents > 0).length,
    down: differences.filter(({ cents }) => cents < 0).length,
    same: differences.filter(({ cents }) => cents === 0).length,
    differenceCents: differences.reduce((sum, { cents }) => sum + cents, 0),
    median: middle ? { cents: middle.cents, percent: middle.percent } : null,
    largest: largestOf(differences),
  };
}

/** Of several as large, the first. */
function largestOf(differences: readonly Difference[]): Difference | null {
  return differences.reduce<Difference | null>(
    (largest, each) =>
      largest === null || Math.abs(each.cents) > Math.abs(largest.cents) ? each : largest,
    null,
  );
}
