import type { Database } from '../platform/database/database.ts';
import type { KnownTerms } from './known-terms.ts';

/** What judging in the background works with. */
export interface AuditDeps {
  db: Pick<Database, 'pool' | 'transact'>;
  /** The clock, the identifiers, and the price books that were read before. */
  judging(): { now: Date; newId(): string; known: KnownTerms };
}
