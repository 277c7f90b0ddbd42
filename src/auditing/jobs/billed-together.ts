import type { JobDocument } from './job-facts.ts';

/**
 * The documents of a job by the visit that they are of: a quote with its change orders, whenever these
 * were found, and a fee that was billed by itself. What a yes credits of the fee holds against the
 * labor and access of all of them, as it does where they are billed. In an order that does not depend
 * on the one they are given in.
 */
export function billedTogether(documents: readonly JobDocument[]): JobDocument[][] {
  if (documents.length <= 1) return documents.map((document) => [document]);
  const groups = new Map<string, JobDocument[]>();
  for (const document of documents.toSorted(byPlace)) {
    const name = visitOf(document, documents);
    groups.set(name, [...(groups.get(name) ?? []), document]);
  }
  return [...groups.values()];
}

/** Those of the same visit as a document of the job, itself among them. */
export function billedWith(
  document: JobDocument,
  documents: readonly JobDocument[],
): readonly JobDocument[] {
  return billedTogether(documents).find((visit) => visit.includes(document)) ?? [document];
}

function visitOf(document: JobDocument, documents: readonly JobDocument[]): string {
  const { kind, invoiceId, position, quoteId, parentQuoteId, visitId } = document;
  const alone = `document ${invoiceId} ${position}`;
  if (kind === 'bill') return alone;
  if (kind === 'visit_fee') return visitId === undefined ? alone : `visit ${visitId}`;
  const rootId = parentQuoteId ?? quoteId;
  if (rootId === null) return alone;
  const root = documents.find((each) => each.kind === 'accepted' && each.quoteId === rootId);
  return root?.visitId === undefined ? `quote ${rootId}` : `visit ${root.visitId}`;
}

function byPlace(one: JobDocument, other: JobDocument): number {
  if (one.invoiceId === other.invoiceId) return one.position - other.position;
  return one.invoiceId < other.invoiceId ? -1 : 1;
}
