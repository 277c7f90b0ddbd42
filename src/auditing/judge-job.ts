import type { Cents } from '../pricing/index.ts';
import { addCents } from '../pricing/index.ts';
import { type CorrectedDocument, correctDocuments } from './jobs/correct-documents.ts';
import type { FactGroup, JobFacts } from './jobs/job-facts.ts';
import { pricesOf } from './jobs/prices-of.ts';
import type { AuditRule, Correction, Flagged, Severity } from './rules/audit-rule.ts';
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
export function judgeJob(
  job: JobFacts,
  { version, rules }: AuditRuleset = currentAuditRuleset,
): JobJudgement {
  const prices = pricesOf();
  const answers = rules.map((rule) => ({ rule, answer: rule.judge(job, prices) }));
  const flags = answers.flatMap(({ rule, answer }) =>
    answer.outcome === 'flagged' ? flagOf(job, rule, answer) : [],
  );
  const corrected = correctDocuments(
    job.documents,
    flags.flatMap(({ corrections }) => corrections),
  );
  return {
    rulesetVersion: version,
    flags,
    cannotJudge: answers.flatMap(({ rule, answer }) =>
      answer.outcome === 'cannot_judge' ? [{ ruleCode: rule.code, missing: answer.missing }] : [],
    ),
    corrected,
    overCents: totalOf(corrected),
  };
}

/** A flag with nothing to give back asks for a look alone; one that was put right is none any more. */
function flagOf(job: JobFacts, { code, severity }: AuditRule, flagged: Flagged): JobFlag[] {
  const { sentences, corrections } = flagged;
  const overCents = totalOf(correctDocuments(job.documents, corrections));
  if (overCents === 0 && corrections.some((each) => wasGivenBack(job, each))) return [];
  const asks = overCents === 0 && severity === 'owed' ? 'look' : severity;
  return [{ ruleCode: code, severity: asks, sentences, corrections, overCents }];
}

/** Of this charge something was given back before. */
function wasGivenBack({ documents }: JobFacts, { invoiceId, position, key }: Correction): boolean {
  return documents.some(
    (document) =>
      document.invoiceId === invoiceId &&
      document.position === position &&
      document.credited.some((credit) => credit.key === key && credit.amountCents > 0),
  );
}

function totalOf(corrected: readonly CorrectedDocument[]): Cents {
  return addCents(corrected.map(({ totalCents }) => totalCents));
}
