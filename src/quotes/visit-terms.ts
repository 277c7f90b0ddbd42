import { sqlOf, type Tx } from '../platform/database/database.ts';
import type { Visit } from '../platform/database/generated/client.ts';
import {
  type EarlierWork,
  earlierWorkOf,
  pricingInputsSchema,
  type VisitFee,
} from '../pricing/index.ts';
import { isCoveredByAnother, recalledFindings } from '../visits/index.ts';
import { type AcceptedDocument, acceptedDocuments } from './accepted-documents.ts';

/** A quote as far as its price depends on what else happened on its ticket. */
export interface QuotePlace {
  /** None while it is drafted for the first time. */
  quoteId?: string;
  /** The accepted quote that it changes, if it is a change order. */
  parentId: string | null;
  visit: Pick<Visit, 'id' | 'ticketId' | 'purpose' | 'feeCents' | 'sameTripAs'>;
}

/** What a quote's price takes from its visit, and from what was accepted and done before it. */
export interface VisitTerms {
  visitFee: VisitFee;
  /** Undefined where nothing was accepted at this visit before. */
  earlierWork: EarlierWork | undefined;
  /** The findings of the visit by which our own work has come back. */
  recalled: ReadonlySet<string>;
}

/**
 * Looks up what a quote's price takes from its visit. It may change until the yes, so whoever
 * drafts, issues or accepts looks again, holding the ticket.
 * @param today the local day
 */
export async function visitTerms(tx: Tx, place: QuotePlace, today: string): Promise<VisitTerms> {
  const { quoteId, visit } = place;
  const recalled = await recalledFindings(sqlOf(tx), visit.id, today);
  const isForOurOwnWork = recalled.some(({ fromEarlierTrip }) => fromEarlierTrip);
  const documents = await acceptedDocuments(tx, visit.ticketId, quoteId);
  const ofVisit = documents.filter(({ visitId }) => visitId === visit.id);
  return {
    visitFee: await visitFee(tx, place, isForOurOwnWork),
    earlierWork: ofVisit.length === 0 ? undefined : earlierWorkOf(ofVisit.map(linesThatStand)),
    recalled: new Set(recalled.map(({ id }) => id)),
  };
}

/** One trip has one fee, on the quote it was called for; other trips have none. */
async function visitFee(
  tx: Tx,
  { parentId, visit }: QuotePlace,
  isForOurOwnWork: boolean,
): Promise<VisitFee> {
  if (parentId !== null) return feeOfChangeOrder(tx, parentId);
  if (visit.purpose === 'return') return noFee('coming back for accepted work has no fee');
  if (visit.purpose === 'callback') return noFee('a callback has no fee');
  if (visit.purpose === 'maintenance') return noFee('maintenance under the agreement has no fee');
  if (isForOurOwnWork) return noFee('no fee for mending our own work again');
  if (visit.sameTripAs !== null) return feeOfTrip(tx, visit.sameTripAs);
  if (await isCoveredByAnother(tx, visit.id)) return noFee(MOVED_WITHOUT_FEE);
  return pricingInputsSchema.shape.visitFee.parse({
    chargeable: true,
    amountCents: visit.feeCents,
  });
}

/** What we ask for never costs more, so a visit that we moved out of a trip still has no fee. */
const MOVED_WITHOUT_FEE = 'it was booked without one, and we moved it';

async function feeOfTrip(tx: Pick<Tx, 'visit'>, visitId: string): Promise<VisitFee> {
  const { ticket } = await tx.visit.findUniqueOrThrow({
    where: { id: visitId },
    select: { ticket: { select: { number: true } } },
  });
  return noFee(`one fee for the trip, with ticket ${ticket.number}`);
}

/** What it changes has the fee already, or says itself why it has none. */
async function feeOfChangeOrder(tx: Pick<Tx, 'quote'>, parentId: string): Promise<VisitFee> {
  const parent = await tx.quote.findUniqueOrThrow({
    where: { id: parentId },
    select: { number: true, acceptance: { select: { revision: true } }, revisions: true },
  });
  const accepted = parent.revisions.find(({ number }) => number === parent.acceptance?.revision);
  if (accepted === undefined) throw new Error('a change order hangs on an accepted quote');
  const { visitFee: fee } = pricingInputsSchema.parse(accepted.inputs);
  return fee.chargeable ? noFee(`charged with quote ${parent.number}`) : fee;
}

function noFee(reason: string): VisitFee {
  return { chargeable: false, reason };
}

/**
 * What a document charges for work that was not done comes off the bill again, and its access with
 * it: whoever still needs the same way opened pays for it.
 */
function linesThatStand({ lines, outcomes }: AcceptedDocument): AcceptedDocument['lines'] {
  const isUndone = (id: string) => outcomes.get(id) === 'not_done';
  return lines.filter(({ findingIds }) => findingIds.length === 0 || !findingIds.every(isUndone));
}
