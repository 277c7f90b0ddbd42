import { aboveCeiling } from './rules/above-ceiling.ts';
import { accessChargedTwice } from './rules/access-charged-twice.ts';
import type { AuditRule } from './rules/audit-rule.ts';
import { cancelledAfterTimeOnSite } from './rules/cancelled-after-time-on-site.ts';
import { differsFromBook } from './rules/differs-from-book.ts';
import { duplicatePart } from './rules/duplicate-part.ts';
import { feeChargedTwice } from './rules/fee-charged-twice.ts';
import { feeNotCredited } from './rules/fee-not-credited.ts';
import { hoursBeyondClock } from './rules/hours-beyond-clock.ts';
import { lineWithoutFinding } from './rules/line-without-finding.ts';
import { partsNotUsed } from './rules/parts-not-used.ts';
import { readingAfterQuote } from './rules/reading-after-quote.ts';
import { recallCharged } from './rules/recall-charged.ts';
import { refrigerantWithoutRecord } from './rules/refrigerant-without-record.ts';
import { resetBilledAsRepair } from './rules/reset-billed-as-repair.ts';
import { resetWithoutCause } from './rules/reset-without-cause.ts';
import { sumNotSplit } from './rules/sum-not-split.ts';
import { taxWrong } from './rules/tax-wrong.ts';
import { warrantedPartCharged } from './rules/warranted-part-charged.ts';
import { workBeforeYes } from './rules/work-before-yes.ts';

/** Every version that ever judged a job. A version, once released, stays. */
export const auditRulesetVersions = ['auditing-1'] as const;
export type AuditRulesetVersion = (typeof auditRulesetVersions)[number];

export interface AuditRuleset {
  readonly version: AuditRulesetVersion;
  /** In the order in which they are shown. */
  readonly rules: readonly AuditRule[];
}

export const auditRulesets: Readonly<Record<AuditRulesetVersion, AuditRuleset>> = {
  'auditing-1': {
    version: 'auditing-1',
    rules: [
      resetBilledAsRepair,
      lineWithoutFinding,
      aboveCeiling,
      differsFromBook,
      accessChargedTwice,
      feeNotCredited,
      feeChargedTwice,
      warrantedPartCharged,
      recallCharged,
      duplicatePart,
      partsNotUsed,
      refrigerantWithoutRecord,
      workBeforeYes,
      taxWrong,
      hoursBeyondClock,
      cancelledAfterTimeOnSite,
      readingAfterQuote,
      resetWithoutCause,
      sumNotSplit,
    ],
  },
};

/** What jobs are judged by. */
export const currentAuditRuleset: AuditRuleset = auditRulesets['auditing-1'];
