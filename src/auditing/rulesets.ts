import type { AuditRule } from './rules/audit-rule.ts';
import { cancelledAfterTimeOnSite } from './rules/cancelled-after-time-on-site.ts';
import { duplicatePart } from './rules/duplicate-part.ts';
import { hoursBeyondClock } from './rules/hours-beyond-clock.ts';
import { partsNotUsed } from './rules/parts-not-used.ts';
import { readingAfterQuote } from './rules/reading-after-quote.ts';
import { refrigerantWithoutRecord } from './rules/refrigerant-without-record.ts';
import { resetWithoutCause } from './rules/reset-without-cause.ts';
import { sumNotSplit } from './rules/sum-not-split.ts';
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
      duplicatePart,
      partsNotUsed,
      refrigerantWithoutRecord,
      workBeforeYes,
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
