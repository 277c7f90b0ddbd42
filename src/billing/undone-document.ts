import { cents, visitFeeCreditKey } from '../pricing/index.ts';
import type { BilledDocument, BilledLine } from './billed-document.ts';
import { type ChargedLine, type Credit, chargedLines } from './charged-lines.ts';
import { documentOf } from './document-of.ts';
import { limitFeeCredit } from './limit-fee-credit.ts';
import { notUsedCents, type UsedGoods } from './not-used.ts';
import { type PricedFrom, pricedAgain } from './priced-again.ts';
import { type TaxedDocument, taxOfTheRest } from './tax-of-the-rest.ts';

/** An accepted option with what it was priced from. */
export interface AcceptedWork extends PricedFrom {
  readonly lines: readonly BilledLine[];
}

/** What became of the accepted work, as far as it is less than was sold. */
export interface WorkDone {
  readonly undoneFindingIds: readonly string[];
  /** Of parts and goods; one that is not named was used as sold. */
  readonly used: readonly UsedGoods[];
}

/** What is taken off: nothing, some of it, or so much that only the trip is left to bill. */
export type Undone =
  | { readonly outcome: 'nothing' }
  | { readonly outcome: 'some'; readonly document: BilledDocument }
  | { readonly outcome: 'everything' };

/**
 * What is taken off an accepted option because less was done than sold: each charge whose findings
 * are all undone, net of what is aimed at it; of goods not used, what they make the line dearer; and
 * the tax by the rule for credits. The fee stays; its credit is limited to what was done. When
 * nothing that was sold was done, the option is not billed at all: the trip is, as if the quote had
 * been declined.
 */
export function undoneDocument(accepted: AcceptedWork, done: WorkDone): Undone {
  const sold = accepted.lines
    .filter(({ kind }) => SELLS.includes(kind))
    .flatMap(({ findingIds }) => findingIds);
  if (sold.length > 0 && sold.every((id) => done.undoneFindingIds.includes(id))) {
    return { outcome: 'everything' };
  }
  const gone = chargedLines(accepted.lines).flatMap((charged) => goneOf(accepted, done, charged));
  if (gone.length === 0) return { outcome: 'nothing' };
  return { outcome: 'some', document: documentOf('work_not_done', offLines(accepted, gone)) };
}

const SELLS: readonly string[] = ['part', 'good', 'labor'];

/** What comes off one charge, if anything. */
function goneOf(
  accepted: AcceptedWork,
  { undoneFindingIds, used }: WorkDone,
  { line, leftCents }: ChargedLine,
): Credit[] {
  const { key, findingIds } = line;
  const isUndone = findingIds.length > 0 && findingIds.every((id) => undoneFindingIds.includes(id));
  const usedOfIt = used.find((each) => each.key === key);
  const lessCents = usedOfIt === undefined ? 0 : notUsedCents(accepted, usedOfIt);
  const amountCents = cents(isUndone ? leftCents : Math.min(leftCents, lessCents));
  return amountCents > 0 ? [{ key, amountCents }] : [];
}

/** Each of them as a line of its own, named after the one it takes from. */
function offLines(accepted: AcceptedWork, gone: readonly Credit[]): BilledLine[] {
  const { option, decline } = pricedAgain(accepted);
  const document: TaxedDocument = {
    lines: accepted.lines,
    tax: accepted.inputs.tax,
    stated: option.stated,
    work: accepted.inputs.options[accepted.optionAt]?.work ?? [],
  };
  const limited = limitFeeCredit(document, gone, decline.totalCents);
  const taxOffCents = taxOfTheRest(document, []) - taxOfTheRest(limited, gone);
  return accepted.lines.flatMap((line) => {
    const offCents = offOf(line, { gone, limited: limited.lines, taxOffCents });
    return offCents === 0
      ? []
      : [{ ...line, key: `undone:${line.key}`, amountCents: cents(-offCents) }];
  });
}

function offOf(
  line: BilledLine,
  off: { gone: readonly Credit[]; limited: readonly BilledLine[]; taxOffCents: number },
): number {
  if (line.kind === 'tax') return off.taxOffCents;
  if (line.key === visitFeeCreditKey) {
    const limited = off.limited.find(({ key }) => key === line.key);
    return line.amountCents - (limited?.amountCents ?? 0);
  }
  return off.gone.find(({ key }) => key === line.key)?.amountCents ?? 0;
}
