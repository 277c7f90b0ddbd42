import type { Tx } from '../platform/database/database.ts';
import { type KnownBook, readKnownBook } from '../pricebook/index.ts';
import type { KnownTerms } from './known-terms.ts';
import type { BookHead } from './read-facts.ts';

/** Published price books, read once each: they never change. */
export interface BookShelf {
  /** The book in force at an instant, of those that were published by then; none before the first. */
  inForce(at: Date): Promise<ShelvedBook | undefined>;
  byId(id: string): Promise<ShelvedBook>;
}

export interface ShelvedBook extends KnownBook {
  readonly id: string;
}

/**
 * A shelf for one transaction, with the books that were read before.
 * @param published all books, the last one in force first
 */
export function openBookShelf(
  prisma: Pick<Tx, 'priceBookVersion'>,
  known: KnownTerms['books'],
  published: readonly BookHead[],
): BookShelf {
  const heads = published.map(({ id, effectiveFrom, publishedAt }) => ({
    id,
    effectiveFrom: new Date(effectiveFrom),
    publishedAt: new Date(publishedAt),
  }));
  const byId = async (id: string): Promise<ShelvedBook> => {
    const book = known.get(id) ?? { id, ...(await readKnownBook(prisma, id)) };
    known.set(id, book);
    return book;
  };
  return {
    byId,
    inForce: async (at) => {
      const head = heads.find(
        ({ effectiveFrom, publishedAt }) => effectiveFrom <= at && publishedAt <= at,
      );
      return head && byId(head.id);
    },
  };
}
