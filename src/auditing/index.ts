export { type CorrectedDocument, correctDocuments } from './jobs/correct-documents.ts';
export {
  type BilledPart,
  type BillFacts,
  type EarlierRepair,
  type FactGroup,
  type FairPrice,
  factGroups,
  type JobDocument,
  type JobFacts,
  type JobFinding,
  type JobVisit,
  type JobWork,
  type RefrigerantOnJob,
  type StoredPrice,
} from './jobs/job-facts.ts';
export { type JobFlag, type JobJudgement, judgeJob } from './judge-job.ts';
export type {
  AuditRule,
  Correction,
  Flagged,
  RuleAnswer,
  Severity,
} from './rules/audit-rule.ts';
export {
  type AuditRuleset,
  type AuditRulesetVersion,
  auditRulesets,
  auditRulesetVersions,
  currentAuditRuleset,
} from './rulesets.ts';
export { addedChances } from './statistics/added-chances.ts';
export { adjustedForMany } from './statistics/adjusted-for-many.ts';
export { binomialChances } from './statistics/binomial-chances.ts';
export {
  type Comparison,
  type ComparisonBounds,
  type Counted,
  compareWithOthers,
} from './statistics/compare-with-others.ts';
export { drawnChances, type Lot } from './statistics/drawn-chances.ts';
export { funnelLimit } from './statistics/funnel-limit.ts';
export { median } from './statistics/median.ts';
export { robustScores, STANDS_OUT_ABOVE } from './statistics/robust-scores.ts';
export { type ShareInterval, shareInterval } from './statistics/share-interval.ts';
export { upperTail } from './statistics/upper-tail.ts';
