import {
  acceptedDocument,
  type BilledDocument,
  type BilledLine,
  feeDocument,
  statedOf,
  undoneDocument,
} from '../../src/billing/index.ts';
import { cents, type PricingInputs, type Stated } from '../../src/pricing/index.ts';
import type { Sold, SoldLine } from './write-quote.ts';
import type { Outcomes } from './write-work.ts';

/** A document of a bill with what it bills. */
export type JobBill = BilledDocument & { stated: Stated; inputs: PricingInputs };

/** What a closing of an invented ticket bills. */
export interface ToBill {
  sold: (Pick<Sold, 'inputs' | 'rulesetVersion'> & { lines: readonly SoldLine[] }) | undefined;
  outcomes: Outcomes;
  /** What the fee of the trip is priced from, where nobody said yes; none where it is not owed. */
  fee: { inputs: PricingInputs; rulesetVersion: string } | undefined;
}

/**
 * The documents of a bill, by the same arithmetic as the program's own.
 * @param parts whether parts that were left out of the machine are billed as if they had gone in
 */
export function billOfJob(
  { sold, outcomes, fee }: ToBill,
  parts: 'as_sold' | 'less_what_was_left_out' = 'as_sold',
): JobBill[] {
  const unusedKeys = parts === 'as_sold' ? [] : outcomes.leftOutKeys;
  const accepted = sold === undefined ? [] : acceptedAndUndone(sold, { ...outcomes, unusedKeys });
  const alone = fee && feeDocument(fee.inputs, fee.rulesetVersion);
  if (fee === undefined || alone === undefined) return accepted;
  // A fee holds no goods, so nothing separates a lump sum.
  return [...accepted, { ...alone, inputs: fee.inputs, stated: fee.inputs.tax.mode }];
}

function acceptedAndUndone(
  sold: NonNullable<ToBill['sold']>,
  {
    undoneFindingIds,
    unusedKeys,
  }: Pick<Outcomes, 'undoneFindingIds'> & { unusedKeys: readonly string[] },
): JobBill[] {
  const { inputs, rulesetVersion } = sold;
  const lines = sold.lines.map(billedLine);
  const work = { inputs, rulesetVersion, optionAt: 0, lines };
  const priced = { inputs, stated: statedOf(work) };
  const accepted = { ...acceptedDocument(lines), ...priced };
  if (undoneFindingIds.length + unusedKeys.length === 0) return [accepted];
  const used = unusedKeys.map((key) => ({ key, quantity: '0' }));
  const undone = undoneDocument(work, { undoneFindingIds, used });
  return undone.outcome === 'some' ? [accepted, { ...undone.document, ...priced }] : [accepted];
}

function billedLine(line: SoldLine): BilledLine {
  const { key, kind, priceClass, description, aimedAt, findingIds } = line;
  return {
    key,
    kind,
    priceClass,
    description,
    aimedAt,
    findingIds,
    amountCents: cents(line.amountCents),
  };
}
