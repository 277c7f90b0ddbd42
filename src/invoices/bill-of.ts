import {
  acceptedDocument,
  type BilledDocument,
  feeDocument,
  invoiceTotal,
  statedOf,
  undoneDocument,
} from '../billing/index.ts';
import type { PricingInputs, Stated } from '../pricing/index.ts';
import { type AgreedWork, agreedWorkOf } from './agreed-work-of.ts';
import type { Store } from './store.ts';
import { type Trip, tripsOf } from './trips-of.ts';

/** A document of a bill with what it bills. */
export type BillDocument = BilledDocument & {
  readonly stated: Stated;
  readonly inputs: PricingInputs;
  readonly rulesetVersion: string;
} & (
    | {
        readonly kind: 'accepted';
        readonly quoteId: string;
        readonly quoteNumber: number;
        readonly optionId: string;
      }
    | { readonly kind: 'work_not_done'; readonly quoteId: string; readonly quoteNumber: number }
    | { readonly kind: 'visit_fee'; readonly visitId: string; readonly arrivedAt: Date }
  );

/** What a closing bills. */
export interface Bill {
  readonly documents: readonly BillDocument[];
  readonly taxCents: number;
  readonly totalCents: number;
}

/**
 * What a closing would bill if its invoice were issued now: the accepted quotes of its ticket that
 * stand and were not billed before, less what was not done of them; and the fee of each trip that
 * was called for and is in none of these.
 * @throws ProblemError 409 when there is no tax rule for a fee that no paper has told yet
 */
export async function billOf(store: Store, closingId: string): Promise<Bill> {
  const work = await agreedWorkOf(store, closingId);
  const billed = work.map((one) => ({ quoteId: one.quoteId, documents: documentsOf(one) }));
  const notStarted = new Set(
    billed.filter(({ documents }) => documents.length === 0).map(({ quoteId }) => quoteId),
  );
  const trips = await tripsOf(store, closingId);
  const fees = trips
    // A quote that bills its work bills the trip too.
    .filter(({ agreedQuoteIds }) => agreedQuoteIds.every((id) => notStarted.has(id)))
    .flatMap(feeOf);
  const documents = [...billed.flatMap((one) => one.documents), ...fees];
  return { documents, ...invoiceTotal(documents) };
}

/** Nothing at all when none of it was done. */
function documentsOf(work: AgreedWork): BillDocument[] {
  const { inputs, rulesetVersion, optionAt, lines, quoteId, quoteNumber } = work;
  const priced = { inputs, rulesetVersion, stated: statedOf(work) };
  const undone = undoneDocument({ inputs, rulesetVersion, optionAt, lines }, work);
  if (undone.outcome === 'everything') return [];
  const accepted: BillDocument = {
    ...acceptedDocument(lines),
    ...priced,
    kind: 'accepted',
    quoteId,
    quoteNumber,
    optionId: work.optionId,
  };
  if (undone.outcome === 'nothing') return [accepted];
  return [accepted, { ...undone.document, ...priced, kind: 'work_not_done', quoteId, quoteNumber }];
}

function feeOf({ visitId, arrivedAt, inputs, rulesetVersion }: Trip): BillDocument[] {
  const fee = feeDocument(inputs, rulesetVersion);
  if (fee === undefined) return [];
  // A fee holds no goods, so nothing separates a lump sum.
  const stated = inputs.tax.mode;
  return [{ ...fee, kind: 'visit_fee', visitId, arrivedAt, inputs, rulesetVersion, stated }];
}
