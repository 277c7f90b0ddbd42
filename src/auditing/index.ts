export { type AskedBack, answersFor } from './answers-for.ts';
export { type BillAsRead, billFactsOf } from './bills/bill-facts-of.ts';
export { type FairBook, type FairPeriod, fairBookOf } from './bills/fair-book.ts';
export type { FairAnswer, FairTerms } from './bills/fair-price-of.ts';
export {
  type BookTask,
  minutesBesideJobs,
  type OwnJob,
  type TaskBesideJobs,
} from './book/minutes-beside-jobs.ts';
export {
  type BilledCost,
  type BookPart,
  type PartBesideBills,
  partCostsBesideBills,
} from './book/part-costs-beside-bills.ts';
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
export { correctedByFlag, type JobFlag, type JobJudgement, judgeJob } from './judge-job.ts';
export { type AmountRow, amountsOf } from './patterns/amounts-of.ts';
export type { JobCount } from './patterns/job-count.ts';
export {
  type Dimension,
  dimensions,
  type MeasureCode,
  measures,
  measureWords,
} from './patterns/measures.ts';
export {
  type FunnelLimits,
  type Pattern,
  type PatternRow,
  patternsInSteps,
  patternsOf,
} from './patterns/patterns-of.ts';
export type { Amount, Count, Tally } from './patterns/tally.ts';
export { addToTally, startTally, tallyJobs } from './patterns/tally-jobs.ts';
export type { DecisiveReading } from './readings/count-bunched.ts';
export type { QuotedReading } from './readings/count-later.ts';
export type { TakenValue } from './readings/count-repeated.ts';
export {
  type ReadingPattern,
  type ReadingPatternRow,
  type ReadingsToJudge,
  readingPatterns,
} from './readings/reading-patterns.ts';
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
