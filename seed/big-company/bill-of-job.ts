import {
  acceptedDocument,
  type BilledDocument,
  type BilledLine,
  feeDocument,
  statedOf,
  undoneDocument,
} from '../../src/billing/index.ts';
import { addCents, cents, type PricingInputs, type Stated } from '../../src/pricing/index.ts';
import type { Sold, SoldLine } from './write-quote.ts';
import type { Outcomes } from './write-work.ts';

/** A document of a bill with what it bills. */
export type JobBill = BilledDocument & {
  stated: Stated;
  inputs: PricingInputs;
  /** The quote, or the trip whose fee it is. */
  of: BilledQuote | FeeToBill;
};

type BilledQuote = Pick<Sold, 'inputs' | 'rulesetVersion' | 'quoteId' | 'quoteNumber' | 'optionId'>;

/** An accepted quote with what became of it, and its change orders. */
export interface WorkToBill {
  sold: BilledQuote & { lines: readonly SoldLine[] };
  outcomes: Outcomes;
  changes: readonly WorkToBill[];
}

/** A trip whose fee is billed in a document of its own, with what it is priced from. */
export interface FeeToBill {
  visitId: string;
  arrivedAt: Date;
  inputs: PricingInputs;
  rulesetVersion: string;
}

/** What a closing of an invented ticket bills. */
export interface ToBill {
  work: readonly WorkToBill[];
  fees: readonly FeeToBill[];
}

type BillParts = 'as_sold' | 'less_what_was_left_out';

/**
 * The documents of a bill, by the same arithmetic as the program's own.
 * @param parts whether parts that were left out of the machine are billed as if they had gone in
 */
export function billOfJob({ work, fees }: ToBill, parts: BillParts = 'as_sold'): JobBill[] {
  return [...work.flatMap((each) => billedTogether(each, parts)), ...fees.flatMap(feeAlone)];
}

function feeAlone(fee: FeeToBill): JobBill[] {
  const { inputs, rulesetVersion } = fee;
  const document = feeDocument(inputs, rulesetVersion);
  // A fee holds no goods, so nothing separates a lump sum.
  return document === undefined ? [] : [{ ...document, inputs, stated: inputs.tax.mode, of: fee }];
}

/** What was done under change orders decides what is credited of the fee. */
function billedTogether(root: WorkToBill, parts: BillParts): JobBill[] {
  const isWhole = [root, ...root.changes].every((work) => isAllDone(work, parts));
  // Nothing is taken off, and pricing again takes long.
  if (isWhole) return [root, ...root.changes].map(accepted);
  const changes = root.changes.map((work) => ({ work, undone: undoneOf(work, parts) }));
  const left = changes.map(({ undone }) => undone.left);
  const undone = undoneOf(root, parts, {
    timeCents: addCents(left.map(({ timeCents }) => timeCents)),
    totalCents: addCents(left.map(({ totalCents }) => totalCents)),
  });
  return [{ work: root, undone }, ...changes].flatMap(documentsOf);
}

function isAllDone({ outcomes }: WorkToBill, parts: BillParts): boolean {
  return outcomes.undoneFindingIds.length + unusedKeys(outcomes, parts).length === 0;
}

function unusedKeys({ leftOutKeys }: Outcomes, parts: BillParts): readonly string[] {
  return parts === 'as_sold' ? [] : leftOutKeys;
}

function undoneOf(
  { sold, outcomes }: WorkToBill,
  parts: BillParts,
  changeOrders: ReturnType<typeof undoneDocument>['left'] = {
    timeCents: cents(0),
    totalCents: cents(0),
  },
) {
  const { undoneFindingIds } = outcomes;
  const used = unusedKeys(outcomes, parts).map((key) => ({ key, quantity: '0' }));
  const done = { undoneFindingIds, used };
  return undoneDocument(pricedWork(sold), done, { changeOrders, feeWaived: false });
}

function documentsOf({
  work,
  undone,
}: {
  work: WorkToBill;
  undone: ReturnType<typeof undoneDocument>;
}): JobBill[] {
  if (undone.outcome === 'everything') return [];
  const document = accepted(work);
  if (undone.outcome === 'nothing') return [document];
  const { inputs, stated, of } = document;
  return [document, { ...undone.document, inputs, stated, of }];
}

function accepted({ sold }: WorkToBill): JobBill {
  const work = pricedWork(sold);
  const priced = { inputs: sold.inputs, stated: statedOf(work) };
  return { ...acceptedDocument(work.lines), ...priced, of: sold };
}

function pricedWork({ inputs, rulesetVersion, lines }: WorkToBill['sold']) {
  return { inputs, rulesetVersion, optionAt: 0, lines: lines.map(billedLine) };
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
