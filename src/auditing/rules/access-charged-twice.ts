import { cents, dollarsText, earlierWorkOf } from '../../pricing/index.ts';
import { adjustedByHand } from '../jobs/adjusted-by-hand.ts';
import { chargesOf } from '../jobs/charges-of.ts';
import type { JobDocument } from '../jobs/job-facts.ts';
import type { JobPrices } from '../jobs/prices-of.ts';
import { cannotJudge, clear } from './answers.ts';
import type { AuditRule } from './audit-rule.ts';
import { flaggedFor } from './flagged-for.ts';
import { type Lowered, lowered } from './lowered.ts';

/**
 * The way in to a system is charged once per visit: what a document charges of it beyond the minutes
 * that those agreed to before it left open. A document that was priced in the knowledge of these
 * holds by its own figures; one that was priced as if it stood alone does not. It is held against what
 * all other rules leave: a way in that is given back was opened at no charge, and the next one pays.
 */
export const accessChargedTwice: AuditRule<'access_charged_twice'> = {
  code: 'access_charged_twice',
  statement: 'The way in to a system is charged once per visit.',
  severity: 'owed',
  source: 'Common practice, no source',
  isAfterOthers: true,
  judge: ({ documents }, prices) => {
    const again = documents.filter((document) => chargesAgain(document, documents));
    if (again.length === 0) return clear;
    if (!documents.every((document) => prices.stored(document))) return cannotJudge('price_inputs');
    return flaggedFor(again.flatMap((document) => overOf(document, documents, prices)));
  },
};

/** A way in that was charged before, at the same visit. */
function chargesAgain(document: JobDocument, documents: readonly JobDocument[]): boolean {
  const keys = new Set(accessOf(document).map(({ line }) => line.key));
  return documents
    .filter((other) => isBefore(other, document))
    .some((other) => accessOf(other).some(({ line }) => keys.has(line.key)));
}

function overOf(
  document: JobDocument,
  documents: readonly JobDocument[],
  prices: JobPrices,
): Lowered[] {
  const before = documents.filter((other) => isBefore(other, document));
  const lines = before.flatMap((other) => chargedAccess(other, prices));
  return overAfter(document, earlierWorkOf([lines]).access, prices);
}

/** Agreed to earlier at the same visit. */
function isBefore(one: JobDocument, other: JobDocument): boolean {
  if (one.agreed === undefined || other.agreed === undefined) return false;
  if (one.visitId === undefined || one.visitId !== other.visitId) return false;
  return Date.parse(one.agreed.acceptedAt) < Date.parse(other.agreed.acceptedAt);
}

function accessOf(document: JobDocument) {
  return chargesOf(document).filter(
    ({ line, leftCents }) => line.kind === 'access' && leftCents > 0,
  );
}

/** What was taken off again, because the work behind it was left undone, is open for others. */
function chargedAccess(document: JobDocument, prices: JobPrices) {
  const minutes = prices.stored(document)?.accessMinutes;
  return accessOf(document).map(({ line, leftCents }) => ({
    ...{ key: line.key, kind: 'access', description: line.description, amountCents: leftCents },
    minutes: minutes?.get(line.key) ?? 0,
  }));
}

function overAfter(
  document: JobDocument,
  access: ReturnType<typeof earlierWorkOf>['access'],
  prices: JobPrices,
): Lowered[] {
  const priced = prices.afterAccess(document, access);
  if (priced === undefined) return [];
  const byHand = adjustedByHand(priced.inputs);
  return accessOf(document).flatMap(({ line: { key, description }, leftCents }) => {
    const dueCents = (priced.computedCents.get(key) ?? 0) + (byHand.get(key) ?? 0);
    if (leftCents <= dueCents) return [];
    const sentence = `${description} is charged ${dollarsText(leftCents)} on ${document.title}, and was charged before at the same visit. Without that it comes to ${dollarsText(dueCents)}.`;
    return [lowered(document, key, cents(dueCents), sentence)];
  });
}
