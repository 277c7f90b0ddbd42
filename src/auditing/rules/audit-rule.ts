import type { Cents } from '../../pricing/index.ts';
import type { FactGroup, JobFacts } from '../jobs/job-facts.ts';
import type { JobPrices } from '../jobs/prices-of.ts';

/**
 * What a flag asks for: `owed`, money that goes back; `look`, somebody's look at the job's file;
 * `record`, a record that is not complete. None of them accuses anybody.
 */
export type Severity = 'owed' | 'look' | 'record';

/** One thing that has to hold of every job that is over. */
export interface AuditRule<Code extends string = string> {
  readonly code: Code;
  /** What has to hold, in one plain sentence. */
  readonly statement: string;
  readonly severity: Severity;
  /** Where that comes from; `Common practice, no source` where it is the trade's custom. */
  readonly source: string;
  /**
   * It is held against the documents as all other rules leave them, without what was dismissed: what
   * it asks for depends on what else is given back.
   */
  readonly isAfterOthers?: true;
  /** `prices` holds the job's documents priced again, made once for all rules. */
  readonly judge: (job: JobFacts, prices: JobPrices) => RuleAnswer;
}

export type RuleAnswer =
  | { readonly outcome: 'clear'; readonly settled?: readonly Correction[] }
  | { readonly outcome: 'cannot_judge'; readonly missing: readonly FactGroup[] }
  | Flagged;

export interface Flagged {
  readonly outcome: 'flagged';
  /** One sentence for each thing found, with its figures. */
  readonly sentences: readonly string[];
  /** What the charges concerned would have come to; none where only a look is asked for. */
  readonly corrections: readonly Correction[];
  /**
   * What holds of charges of which nothing is left: by itself it gives nothing back, but it counts
   * with what else is given back.
   */
  readonly settled?: readonly Correction[];
}

/** A charge that would have come to less. */
export interface Correction {
  readonly invoiceId: string;
  readonly position: number;
  /** The charge; `tax` for the tax of the document itself. */
  readonly key: string;
  /** What should be left of it, after discounts and what was given back before. */
  readonly toCents: Cents;
  /**
   * What it rests on besides the charge itself, `ticket 1002` or `finding …`: the same charge for
   * another reason is another thing to answer.
   */
  readonly because?: readonly string[];
  /**
   * Of the visit fee: it is lowered because a yes credits it, which holds only as far as labor and
   * access stay charged.
   */
  readonly asFeeCredit?: true;
  /** Of the visit fee: it was not owed at all, so that no yes credits it either. */
  readonly notOwed?: true;
  /**
   * Of a bill that we did not compute: it is lowered because the whole is too much, and what other
   * corrections take off the bill counts toward that.
   */
  readonly ofWhole?: true;
}
