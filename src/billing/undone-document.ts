import { type Cents, cents, visitFeeCreditKey, visitFeeKey, workKinds } from '../pricing/index.ts';
import type { BilledDocument, BilledLine } from './billed-document.ts';
import { type ChargedLine, type Credit, chargedLines } from './charged-lines.ts';
import { documentOf } from './document-of.ts';
import { grossAsDone, grossOf, type WorkDone } from './gross-as-done.ts';
import { leftOf } from './left-of.ts';
import { type BilledWork, limitFeeCredit, timeOf } from './limit-fee-credit.ts';
import { type PricedFrom, pricedAgain } from './priced-again.ts';
import { type TaxedDocument, taxOfTheRest } from './tax-of-the-rest.ts';

/** An accepted option with what it was priced from. */
export interface AcceptedWork extends PricedFrom {
  readonly lines: readonly BilledLine[];
}

/** What else decides what an accepted option is billed. */
export interface Beside {
  /** What the change orders of the quote are billed with it. */
  readonly changeOrders: BilledWork;
  /** The fee is not owed after all: our own work came back at this visit. */
  readonly feeWaived: boolean;
}

/** What is taken off: nothing, some of it, or so much that the option is not billed at all. */
export type Undone = { readonly left: BilledWork } & (
  | { readonly outcome: 'nothing' }
  | { readonly outcome: 'everything' }
  | { readonly outcome: 'some'; readonly document: BilledDocument }
);

const nothing: BilledWork = { timeCents: cents(0), totalCents: cents(0) };
const alone: Beside = { changeOrders: nothing, feeWaived: false };

/**
 * What is taken off an accepted option because less was done than sold: each charge whose findings
 * are all undone, net of what is aimed at it; of goods and of the way in, what they cost more than
 * they would for what was done; and the tax by the rule for credits. The fee stays, unless it is
 * waived; its credit is limited to what was done at the visit. When nothing that was sold was done
 * and nothing was added either, the option is not billed at all: the trip is, as after a no.
 */
export function undoneDocument(
  accepted: AcceptedWork,
  done: WorkDone,
  beside: Beside = alone,
): Undone {
  if (isAllUndone(accepted, done) && !(holdsTheFee(accepted) && isBilled(beside))) {
    return { outcome: 'everything', left: nothing };
  }
  const gone = goneCharges(accepted, done, beside);
  const { option, decline } = pricedAgain(accepted);
  const document: TaxedDocument = {
    lines: accepted.lines,
    tax: accepted.inputs.tax,
    stated: option.stated,
    work: accepted.inputs.options[accepted.optionAt]?.work ?? [],
  };
  const limited =
    gone.length === 0 || beside.feeWaived
      ? document
      : limitFeeCredit(document, gone, beside.changeOrders, decline.totalCents);
  const left = { timeCents: timeOf(limited, gone), totalCents: leftOf(limited, gone) };
  if (gone.length === 0) return { outcome: 'nothing', left };
  const lines = offLines(document, limited, gone);
  return { outcome: 'some', document: documentOf('work_not_done', lines), left };
}

function isAllUndone({ lines }: AcceptedWork, { undoneFindingIds }: WorkDone): boolean {
  const sold = lines
    .filter(({ kind }) => workKinds.includes(kind))
    .flatMap((line) => line.findingIds);
  return sold.length > 0 && sold.every((id) => undoneFindingIds.includes(id));
}

function holdsTheFee({ lines }: AcceptedWork): boolean {
  return lines.some(({ key, amountCents }) => key === visitFeeKey && amountCents > 0);
}

function isBilled({ changeOrders }: Beside): boolean {
  return changeOrders.totalCents > 0;
}

function goneCharges(accepted: AcceptedWork, done: WorkDone, { feeWaived }: Beside): Credit[] {
  const isLess = done.undoneFindingIds.length > 0 || done.used.length > 0;
  const asDone = isLess ? grossAsDone(accepted, done) : undefined;
  return chargedLines(accepted.lines).flatMap((charged) => {
    const { key } = charged.line;
    const isWaived = feeWaived && key === visitFeeKey;
    const offCents = isWaived ? charged.leftCents : offOf(accepted, done, asDone, charged);
    return offCents > 0 ? [{ key, amountCents: offCents }] : [];
  });
}

/** What comes off one charge: all that is left of it, or what it is dearer than for what was done. */
function offOf(
  { lines }: AcceptedWork,
  { undoneFindingIds, used }: WorkDone,
  asDone: ReadonlyMap<string, Cents> | undefined,
  { line: { key, findingIds }, leftCents }: ChargedLine,
): Cents {
  if (asDone === undefined || findingIds.length === 0) return cents(0);
  const isUndone = findingIds.every((id) => undoneFindingIds.includes(id));
  const isUnused = used.some((each) => each.key === key && Number(each.quantity) === 0);
  if (isUndone || isUnused) return leftCents;
  const dearerCents = grossOf(lines, key) - (asDone.get(key) ?? 0);
  return cents(Math.max(0, Math.min(leftCents, dearerCents)));
}

/** Each of them as a line of its own, named after the one it takes from. */
function offLines(
  document: TaxedDocument,
  limited: TaxedDocument,
  gone: readonly Credit[],
): BilledLine[] {
  const offCents = ({ key, kind, amountCents }: BilledLine): number => {
    if (kind === 'tax') return taxOfTheRest(document, []) - taxOfTheRest(limited, gone);
    if (key !== visitFeeCreditKey) {
      return gone.find((each) => each.key === key)?.amountCents ?? 0;
    }
    const cut = limited.lines.find((each) => each.key === key);
    return amountCents - (cut?.amountCents ?? 0);
  };
  return document.lines
    .map((line) => ({
      ...line,
      key: `${undonePrefix}${line.key}`,
      amountCents: cents(-offCents(line)),
    }))
    .filter(({ amountCents }) => amountCents !== 0);
}

const undonePrefix = 'undone:';

/** The key of the line that something is taken off. */
export function keyOfUndone(key: string): string {
  return key.slice(undonePrefix.length);
}
