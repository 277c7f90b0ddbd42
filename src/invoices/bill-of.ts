import {
  acceptedDocument,
  type BilledDocument,
  feeDocument,
  invoiceTotal,
  statedOf,
  type Undone,
  undoneDocument,
} from '../billing/index.ts';
import { addCents, type PricingInputs, type Stated } from '../pricing/index.ts';
import type { Store } from './store.ts';
import { isForOurOwnWork, type Trip, tripsOf } from './trips-of.ts';
import { type WorkToBill, workToBill } from './work-to-bill.ts';

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
  const work = await workToBill(store, closingId);
  const roots = work.filter(({ parentId }) => !work.some(({ quoteId }) => quoteId === parentId));
  const documents: BillDocument[] = [];
  const notStarted = new Set<string>();
  for (const root of roots) {
    const billed = await billedTogether(
      store,
      root,
      work.filter(({ parentId }) => parentId === root.quoteId),
    );
    if (billed.length === 0) notStarted.add(root.quoteId);
    documents.push(...billed);
  }
  const trips = await tripsOf(store, closingId);
  const fees = trips
    // A quote that bills its work bills the trip too.
    .filter(({ agreedQuoteIds }) => agreedQuoteIds.every((id) => notStarted.has(id)))
    .flatMap(feeOf);
  documents.push(...fees);
  return { documents, ...invoiceTotal(documents) };
}

/** A quote and its change orders: what was done under these decides what is credited of the fee. */
async function billedTogether(
  store: Store,
  root: WorkToBill,
  changeOrders: readonly WorkToBill[],
): Promise<BillDocument[]> {
  const changes = changeOrders.map((work) => ({ work, undone: undoneDocument(work, work) }));
  const left = changes.map(({ undone }) => undone.left);
  const undone = undoneDocument(root, root, {
    changeOrders: {
      timeCents: addCents(left.map(({ timeCents }) => timeCents)),
      totalCents: addCents(left.map(({ totalCents }) => totalCents)),
    },
    feeWaived: await isForOurOwnWork(store, root.visitId),
  });
  return [{ work: root, undone }, ...changes].flatMap(documentsOf);
}

/** Nothing at all when none of it was done. */
function documentsOf({ work, undone }: { work: WorkToBill; undone: Undone }): BillDocument[] {
  if (undone.outcome === 'everything') return [];
  const { inputs, rulesetVersion, lines, quoteId, quoteNumber } = work;
  const priced = { inputs, rulesetVersion, stated: statedOf(work) };
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
