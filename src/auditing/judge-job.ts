import type { Cents } from '../pricing/index.ts';
import { addCents, cents } from '../pricing/index.ts';
import { type CorrectedDocument, correctDocuments } from './jobs/correct-documents.ts';
import type { FactGroup, JobFacts } from './jobs/job-facts.ts';
import { type JobPrices, pricesOf } from './jobs/prices-of.ts';
import { settledCorrections, wasPutRight } from './jobs/settled-corrections.ts';
import type { AuditRule, Correction, Flagged, RuleAnswer, Severity } from './rules/audit-rule.ts';
import { wholeAfterOthers } from './rules/whole-after-others.ts';
import { type AuditRuleset, currentAuditRuleset } from './rulesets.ts';

/** What the rules say of one job. */
export interface JobJudgement {
  readonly rulesetVersion: string;
  readonly flags: readonly JobFlag[];
  /** The rules that could not be held against it, each with what is not known. */
  readonly cannotJudge: readonly {
    readonly ruleCode: string;
    readonly missing: readonly FactGroup[];
  }[];
  /** What all flags together take off, document by document: two about one charge never add. */
  readonly corrected: readonly CorrectedDocument[];
  readonly overCents: Cents;
}

export interface JobFlag {
  readonly ruleCode: string;
  readonly severity: Severity;
  readonly sentences: readonly string[];
  readonly corrections: readonly Correction[];
  /** What its own corrections come to, tax included; 0 where it asks only for a look. */
  readonly overCents: Cents;
}

/** Holds every rule of a version against one job. */
export function judgeJob(job: JobFacts, ruleset: AuditRuleset = currentAuditRuleset): JobJudgement {
  const { answers, settled, prices } = answersOf(job, ruleset);
  const flags = answers.flatMap(({ rule, answer }) =>
    answer.outcome === 'flagged' ? flagOf(job, rule, answer, { settled, prices }) : [],
  );
  const corrections = [...flags.flatMap((flag) => flag.corrections), ...settled];
  const corrected = correctDocuments(job.documents, wholeAfterOthers(job, corrections), prices);
  return {
    rulesetVersion: ruleset.version,
    flags,
    cannotJudge: answers.flatMap(({ rule, answer }) =>
      answer.outcome === 'cannot_judge' ? [{ ruleCode: rule.code, missing: answer.missing }] : [],
    ),
    corrected,
    overCents: totalOf(corrected),
  };
}

/** What one flag of a job takes off, as its amount says: nothing where that rule flags nothing. */
export function correctedByFlag(
  job: JobFacts,
  ruleCode: string,
  ruleset: AuditRuleset = currentAuditRuleset,
): readonly CorrectedDocument[] {
  const { answers, settled, prices } = answersOf(job, ruleset);
  return answers.flatMap(({ rule, answer }) =>
    rule.code === ruleCode && answer.outcome === 'flagged'
      ? correctDocuments(job.documents, [...answer.corrections, ...settled], prices)
      : [],
  );
}

/** What every rule answers, and what stands beside each answer. */
interface Answers extends Beside {
  readonly answers: readonly { readonly rule: AuditRule; readonly answer: RuleAnswer }[];
}

interface Beside {
  readonly settled: readonly Correction[];
  readonly prices: JobPrices;
}

function answersOf(job: JobFacts, { rules }: AuditRuleset): Answers {
  const prices = pricesOf();
  const answers = rules.map((rule) => ({ rule, answer: rule.judge(job, prices) }));
  const settled = settledCorrections(
    job,
    answers.map(({ answer }) => answer),
    prices,
  );
  return { answers, settled, prices };
}

/** A flag with nothing to give back asks for a look alone; one that was put right is none any more. */
function flagOf(
  job: JobFacts,
  { code, severity }: AuditRule,
  { sentences, corrections }: Flagged,
  { settled, prices }: Beside,
): JobFlag[] {
  const back = correctDocuments(job.documents, [...corrections, ...settled], prices);
  const overCents = corrections.length === 0 ? cents(0) : totalOf(back);
  if (overCents === 0 && wasPutRight(job, corrections, prices)) return [];
  const asks = overCents === 0 && severity === 'owed' ? 'look' : severity;
  return [{ ruleCode: code, severity: asks, sentences, corrections, overCents }];
}

function totalOf(corrected: readonly CorrectedDocument[]): Cents {
  return addCents(corrected.map(({ totalCents }) => totalCents));
}
