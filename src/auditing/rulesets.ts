import type { AuditRule } from './rules/audit-rule.ts';

/** Every version that ever judged a job. A version, once released, stays. */
export const auditRulesetVersions = ['auditing-1'] as const;
export type AuditRulesetVersion = (typeof auditRulesetVersions)[number];

export interface AuditRuleset {
  readonly version: AuditRulesetVersion;
  /** In the order in which they are shown. */
  readonly rules: readonly AuditRule[];
}

export const auditRulesets: Readonly<Record<AuditRulesetVersion, AuditRuleset>> = {
  'auditing-1': { version: 'auditing-1', rules: [] },
};

/** What jobs are judged by. */
export const currentAuditRuleset: AuditRuleset = auditRulesets['auditing-1'];
