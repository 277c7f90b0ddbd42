import { formatCents } from './format-cents.ts';
import type { PaperAmount, PaperMeasurement, PaperOption } from './paper-parts.ts';
import type { QuotePaper } from './quote-paper.ts';

/** A paper that contradicts itself: it must never reach a customer. */
export class PaperRefused extends Error {
  override readonly name = 'PaperRefused';
}

/**
 * Refuses a paper whose lines do not sum to its totals to the cent, or that says something that
 * cannot be drawn truly (no option, more than three, a limit above its own upper limit). Nothing is
 * corrected here: a paper that does not add up was made wrongly upstream.
 *
 * @throws PaperRefused with one sentence that names the place and both amounts.
 */
export function assertQuoteAddsUp(paper: QuotePaper): void {
  if (!Number.isInteger(paper.revision) || paper.revision < 1) {
    throw new PaperRefused(`A revision is counted from 1, not ${paper.revision}.`);
  }
  if (Number.isNaN(Date.parse(paper.issuedAt))) {
    throw new PaperRefused(`The instant of issue is not a date: '${paper.issuedAt}'.`);
  }
  if (paper.options.length < 1 || paper.options.length > 3) {
    throw new PaperRefused(`A quote offers one to three options, not ${paper.options.length}.`);
  }
  const letters = paper.options.map((option) => option.letter);
  if (new Set(letters).size !== letters.length) {
    throw new PaperRefused(`Two options share a letter: ${letters.join(', ')}.`);
  }
  paper.options.forEach(assertOptionAddsUp);
  assertSum('Declining', paper.decline.amounts, paper.decline.totalCents);
  if (paper.changes !== undefined) assertChangeOrder(paper);
  for (const finding of paper.findings) finding.measurements.forEach(assertDrawable);
}

function assertOptionAddsUp(option: PaperOption): void {
  const place = `Option ${option.letter}`;
  const { prices } = option;
  switch (prices.kind) {
    case 'separated': {
      const lines = prices.groups.flatMap(({ lines }) =>
        lines.map(({ description, amountCents }) => ({ label: description, amountCents })),
      );
      for (const { unitPriceCents } of prices.groups.flatMap((group) => group.lines)) {
        if (unitPriceCents !== undefined) formatCents(unitPriceCents);
      }
      assertSum(`${place} before tax`, lines, prices.subtotalCents);
      assertTotal(option, prices.subtotalCents);
      return;
    }
    case 'lump_sum':
      assertTotal(option, prices.priceCents);
  }
}

/** A no to a change order costs nothing: what it changes stands. */
function assertChangeOrder({ decline, changes }: QuotePaper): void {
  if (decline.totalCents !== 0) {
    throw new PaperRefused(`A no to a change order would cost ${decline.totalCents} cents.`);
  }
  formatCents(changes?.agreedCents ?? 0);
}

function assertTotal(option: PaperOption, beforeTaxCents: number): void {
  const beforeTax = { label: 'before tax', amountCents: beforeTaxCents };
  assertSum(`Option ${option.letter}`, [beforeTax, ...option.taxes], option.totalCents);
}

/** Sums in whole cents beyond what a double holds exactly, so that no amount can hide in rounding. */
function assertSum(place: string, amounts: readonly PaperAmount[], totalCents: number): void {
  let sumCents = 0n;
  for (const { label, amountCents } of amounts) {
    if (!Number.isSafeInteger(amountCents)) {
      throw new PaperRefused(`${place}: '${label}' is not a whole number of cents.`);
    }
    sumCents += BigInt(amountCents);
  }
  if (!Number.isSafeInteger(totalCents)) {
    throw new PaperRefused(`${place}: the total is not a whole number of cents.`);
  }
  if (sumCents !== BigInt(totalCents)) {
    throw new PaperRefused(
      `${place}: the lines come to ${sumCents} cents, the paper says ${totalCents}.`,
    );
  }
}

/** No reading of the trade comes near it; a wider number would not fit beside its gauge. */
const READING_MAX = 1e9;

function assertDrawable(measurement: PaperMeasurement): void {
  const { label, value, low, high, uncertainty, decimals, limitDecimals = decimals } = measurement;
  const numbers = [value, low ?? 0, high ?? 0, uncertainty ?? 0];
  if (!numbers.every((number) => Math.abs(number) < READING_MAX)) {
    throw new PaperRefused(`'${label}' has a number that cannot be drawn.`);
  }
  if (low !== undefined && high !== undefined && low > high) {
    throw new PaperRefused(`'${label}' has its lower limit above its upper one.`);
  }
  for (const asked of [decimals, limitDecimals]) {
    if (!Number.isInteger(asked) || asked < 0 || asked > 4) {
      throw new PaperRefused(`'${label}' asks for ${asked} decimals; 0 to 4 can be printed.`);
    }
  }
  if ((uncertainty ?? 0) < 0) {
    throw new PaperRefused(`'${label}' has a negative uncertainty.`);
  }
}
