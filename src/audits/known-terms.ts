import type { ShelvedBook } from './book-shelf.ts';
import type { KeptRules } from './known-tax-rules.ts';

/**
 * The terms that jobs were priced by, as far as they were read so far: kept by whoever judges many
 * jobs one after another.
 */
export interface KnownTerms {
  /** Price books by identifier; a published one never changes. */
  readonly books: Map<string, ShelvedBook>;
  /** Tax rules by jurisdiction, with the mark that they had then. */
  readonly taxRules: Map<string, KeptRules>;
}

/** What somebody knows who begins. */
export function nothingKnown(): KnownTerms {
  return { books: new Map(), taxRules: new Map() };
}
