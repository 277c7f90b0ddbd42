import type { Tx } from '../platform/database/database.ts';

/** What a change order comes on top of, as it stands now. */
export interface ChangedQuote {
  number: number;
  /** The yes to it and to the other changes of it, without what was taken back. */
  agreedCents: number;
  /** Another change of it was accepted. */
  hasGrown: boolean;
}

/** The accepted quote that a change order adds to; undefined for any other quote. */
export async function changedQuoteOf(
  tx: Pick<Tx, 'quoteAcceptance' | 'quote'>,
  { id, parentId }: { id: string; parentId: string | null },
): Promise<ChangedQuote | undefined> {
  if (parentId === null) return undefined;
  const { number } = await tx.quote.findUniqueOrThrow({
    where: { id: parentId },
    select: { number: true },
  });
  const standing = await tx.quoteAcceptance.findMany({
    where: {
      quoteId: { not: id },
      quote: { OR: [{ id: parentId }, { parentId }] },
      cancellation: { is: null },
    },
    select: { quoteId: true, totalCents: true },
  });
  return {
    number,
    agreedCents: standing.reduce((sum, { totalCents }) => sum + totalCents, 0),
    hasGrown: standing.some(({ quoteId }) => quoteId !== parentId),
  };
}
