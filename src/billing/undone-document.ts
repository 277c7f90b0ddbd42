import { cents, type PricingInputs } from '../pricing/index.ts';
import type { BilledDocument, BilledLine } from './billed-document.ts';
import { type ChargedLine, chargedLines } from './charged-lines.ts';
import { documentOf } from './document-of.ts';
import { statedOf } from './stated-of.ts';
import { taxOfTheRest } from './tax-of-the-rest.ts';

/** An accepted option with what it was priced from. */
export interface AcceptedWork {
  readonly inputs: PricingInputs;
  readonly rulesetVersion: string;
  /** Where the option stands among those of its revision, from 0. */
  readonly optionAt: number;
  readonly lines: readonly BilledLine[];
}

/** What is taken off: nothing, some of it, or so much that only the trip is left to bill. */
export type Undone =
  | { readonly outcome: 'nothing' }
  | { readonly outcome: 'some'; readonly document: BilledDocument }
  | { readonly outcome: 'everything' };

/**
 * What is taken off an accepted option because some of its work was not done: each charge whose
 * findings are all undone, net of what is aimed at it, and the tax by the rule for credits. The fee
 * and its credit stay. When nothing that was sold was done, the option is not billed at all: the
 * trip is, as if the quote had been declined.
 */
export function undoneDocument(
  accepted: AcceptedWork,
  undoneFindingIds: readonly string[],
): Undone {
  const { lines } = accepted;
  const isUndone = (id: string) => undoneFindingIds.includes(id);
  const sold = lines.filter(({ kind }) => SELLS.includes(kind)).flatMap((line) => line.findingIds);
  if (sold.length > 0 && sold.every(isUndone)) return { outcome: 'everything' };
  const gone = chargedLines(lines).filter(
    ({ line, leftCents }) =>
      leftCents > 0 && line.findingIds.length > 0 && line.findingIds.every(isUndone),
  );
  if (gone.length === 0) return { outcome: 'nothing' };
  const off = [...gone.map(takenOff), ...taxTakenOff(accepted, gone)];
  return { outcome: 'some', document: documentOf('work_not_done', off) };
}

const SELLS: readonly string[] = ['part', 'good', 'labor'];

function takenOff({ line, leftCents }: ChargedLine): BilledLine {
  return { ...line, key: `undone:${line.key}`, amountCents: cents(-leftCents) };
}

function taxTakenOff(accepted: AcceptedWork, gone: readonly ChargedLine[]): BilledLine[] {
  const { inputs, lines, optionAt } = accepted;
  const document = {
    lines,
    tax: inputs.tax,
    stated: statedOf(accepted),
    work: inputs.options[optionAt]?.work ?? [],
  };
  const credits = gone.map(({ line, leftCents }) => ({ key: line.key, amountCents: leftCents }));
  const taxCents = taxOfTheRest(document, credits) - taxOfTheRest(document, []);
  const taxed = lines.find(({ kind }) => kind === 'tax');
  if (taxCents === 0 || taxed === undefined) return [];
  return [{ ...taxed, key: `undone:${taxed.key}`, amountCents: cents(taxCents) }];
}
