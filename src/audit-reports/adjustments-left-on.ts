import { type Credit, leftOf, type TaxedDocument } from '../billing/index.ts';
import { cents } from '../pricing/index.ts';

/**
 * What is left on a billed document of that which people added to its charges by hand, less what they
 * took off, with its tax. What was given back of a charge is first of what was added to it: a charge of
 * 400.00 to which 50.00 were added, and of which 50.00 were given back, is as it was computed.
 * @param credited what was given back of its charges; below zero for a credit that was taken back
 */
export function adjustmentsLeftOn(document: TaxedDocument, credited: readonly Credit[]): number {
  const added = new Map<string, number>();
  for (const { kind, aimedAt, amountCents } of document.lines) {
    if (kind !== 'adjustment' || aimedAt === null) continue;
    added.set(aimedAt, (added.get(aimedAt) ?? 0) + amountCents);
  }
  const lines = document.lines.filter(({ kind }) => kind !== 'adjustment');
  const without = leftOf({ ...document, lines }, creditedBesides(credited, added));
  return leftOf(document, credited) - without;
}

/** What was given back of each charge beyond what was added to it. */
function creditedBesides(
  credited: readonly Credit[],
  added: ReadonlyMap<string, number>,
): Credit[] {
  const sums = new Map<string, number>();
  for (const { key, amountCents } of credited) {
    sums.set(key, (sums.get(key) ?? 0) + amountCents);
  }
  return [...sums].map(([key, sum]) => {
    const ofAdded = Math.max(0, Math.min(sum, added.get(key) ?? 0));
    return { key, amountCents: cents(sum - ofAdded) };
  });
}
