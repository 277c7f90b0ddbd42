import type { PricedOption, PricedQuote, PricingInputs, WorkItem } from '../pricing/index.ts';
import { type JsonDifference, jsonDifferences } from './json-differences.ts';
import { paperPriceDifferences } from './paper-price-differences.ts';
import { priceAgain } from './price-again.ts';
import { lineRow, optionRow } from './revision-rows.ts';
import type { StoredLine, StoredOption, StoredRevision } from './stored-revisions.ts';

/**
 * Prices a stored revision again from its inputs, under the rules it was made by, and compares
 * everything that was stored of it: every number, every line, every step of every reason, what the
 * paper says and what was accepted.
 * @returns each difference as a sentence that names option and line
 */
export function revisionDifferences(stored: StoredRevision): string[] {
  const { priced, options, accepted } = stored;
  if (priced === null) return ['it was issued, and what it was priced from is gone'];
  const again = priceAgain(priced.inputs, priced.rulesetVersion);
  if (again.outcome === 'impossible') return [again.reason];
  const { inputs, quote } = again;
  const count = Math.max(options.length, quote.options.length);
  return [
    ...sentences('', headDifferences(priced, quote)),
    ...Array.from({ length: count }, (_, at) =>
      optionDifferences(at, options[at], quote.options[at], inputs.options[at]?.work ?? []),
    ).flat(),
    ...paperDifferences(stored, quote, inputs),
    ...(accepted === null ? [] : acceptedDifferences(accepted, options, quote)),
  ];
}

function headDifferences(
  { laborRateCents, declineTotalCents, optionCount }: NonNullable<StoredRevision['priced']>,
  quote: PricedQuote,
): JsonDifference[] {
  return [
    ...jsonDifferences('laborRateCents', laborRateCents, quote.laborRateCents),
    ...jsonDifferences('declineTotalCents', declineTotalCents, quote.decline.totalCents),
    ...jsonDifferences('optionCount', optionCount, quote.options.length),
  ];
}

function optionDifferences(
  at: number,
  stored: StoredOption | undefined,
  priced: PricedOption | undefined,
  work: readonly WorkItem[],
): string[] {
  const place = `option ${at + 1}`;
  if (stored === undefined) return [`${place}: the rules give it, and it is not stored`];
  if (priced === undefined) return [`${place}: it is stored, and the rules do not give it`];
  const { id, lines, ...head } = stored;
  const { id: _, revisionId, ...now } = optionRow(id, '', priced, at);
  const count = Math.max(lines.length, priced.lines.length);
  return [
    ...sentences(`${place}: `, jsonDifferences('', head, now)),
    ...Array.from({ length: count }, (_, line) => {
      const pricedLine = priced.lines[line];
      return lineDifferences(
        `${place} line ${line + 1}`,
        lines[line],
        pricedLine && storedForm(lineRow(id, pricedLine, work)),
      );
    }).flat(),
  ];
}

/** A line as it comes back from the database: digits that say nothing are not kept. */
function storedForm({ optionId: _, measured, ...line }: ReturnType<typeof lineRow>): StoredLine {
  return { ...line, measured: measured === null ? null : withoutEndingZeros(measured) };
}

function withoutEndingZeros(decimal: string): string {
  return decimal.includes('.') ? decimal.replace(/\.?0+$/, '') : decimal;
}

function lineDifferences(
  place: string,
  stored: StoredLine | undefined,
  now: StoredLine | undefined,
): string[] {
  if (now === undefined) return [`${place} (${stored?.key}): the rules do not give it`];
  if (stored === undefined) return [`${place} (${now.key}): it is not stored`];
  return sentences(`${place} (${now.key}): `, jsonDifferences('', stored, now));
}

/** States that no revision comes to without having been issued. */
const HAVE_A_PAPER = new Set<string | null>(['issued', 'accepted', 'declined']);

function paperDifferences(
  { state, paper }: StoredRevision,
  quote: PricedQuote,
  inputs: PricingInputs,
): string[] {
  if (paper === null) {
    return HAVE_A_PAPER.has(state) ? [`it stands as ${state}, and its paper is gone`] : [];
  }
  const differences = paperPriceDifferences(paper, quote, inputs);
  if (differences === undefined) return ['the prices of its paper cannot be read'];
  return sentences('its paper: ', differences);
}

function acceptedDifferences(
  accepted: NonNullable<StoredRevision['accepted']>,
  options: readonly StoredOption[],
  quote: PricedQuote,
): string[] {
  const at = options.findIndex(({ id }) => id === accepted.optionId);
  const totalCents = quote.options[at]?.totalCents;
  if (totalCents === undefined) return ['what was accepted is none of its options'];
  const differences = jsonDifferences('totalCents', accepted.totalCents, totalCents);
  return sentences(`what was accepted, option ${at + 1}: `, differences);
}

function sentences(place: string, differences: readonly JsonDifference[]): string[] {
  return differences.map(({ what, stored, now }) => `${place}${what} was ${stored}, now ${now}`);
}
