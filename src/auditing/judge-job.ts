import type { Cents } from '../pricing/index.ts';
import { addCents, cents } from '../pricing/index.ts';
import { type AskedBack, answersFor, lessDismissed } from './answers-for.ts';
import { askedBackCents } from './jobs/asked-back-cents.ts';
import { type CorrectedDocument, correctDocuments } from './jobs/correct-documents.ts';
import { documentsAfter } from './jobs/documents-after.ts';
import type { FactGroup, JobDocument, JobFacts } from './jobs/job-facts.ts';
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
  /** What those together come to that the owner did not dismiss. */
  readonly openCents: Cents;
}

export interface JobFlag {
  readonly ruleCode: string;
  readonly severity: Severity;
  readonly sentences: readonly string[];
  readonly corrections: readonly Correction[];
  /** What its own corrections come to, tax included; 0 where it asks only for a look. */
  readonly overCents: Cents;
  /** One that was dismissed answers for it. */
  readonly isDismissed?: true;
}

/**
 * Holds every rule of a version against one job.
 * @param dismissed the flags of it that the owner dismissed: they are found again, but what they say
 *   changes nothing of what others come to
 */
export function judgeJob(
  job: JobFacts,
  ruleset: AuditRuleset = currentAuditRuleset,
  dismissed: readonly AskedBack[] = [],
): JobJudgement {
  const answers = answersOf(job, ruleset, dismissed);
  const { all, open, prices } = answers;
  const flags = all.given.flatMap((each) =>
    open.given.includes(each)
      ? flagOf(job, each, open, prices)
      : flagOf(job, each, all, prices).map((flag) => ({ ...flag, isDismissed: true as const })),
  );
  const corrected = correctedBy(job, all, prices);
  const waiting = open === all ? corrected : correctedBy(job, open, prices);
  return {
    rulesetVersion: ruleset.version,
    flags,
    cannotJudge: all.given.flatMap(({ rule, answer }) =>
      answer.outcome === 'cannot_judge' ? [{ ruleCode: rule.code, missing: answer.missing }] : [],
    ),
    corrected,
    overCents: totalOf(corrected),
    openCents: totalOf(waiting),
  };
}

/** What one flag of a job takes off, as its amount says: nothing where that rule flags nothing. */
export function correctedByFlag(
  job: JobFacts,
  ruleCode: string,
  ruleset: AuditRuleset = currentAuditRuleset,
  dismissed: readonly AskedBack[] = [],
): readonly CorrectedDocument[] {
  const { open, prices } = answersOf(job, ruleset, dismissed);
  return open.given.flatMap(({ rule, answer }) =>
    rule.code === ruleCode && answer.outcome === 'flagged'
      ? correctDocuments(job.documents, [...answer.corrections, ...open.settled], prices)
      : [],
  );
}

/** What rules answered, and what stands beside each answer. */
interface Answers {
  readonly given: readonly Given[];
  readonly settled: readonly Correction[];
}

interface Given {
  readonly rule: AuditRule;
  readonly answer: RuleAnswer;
}

interface AllAnswers {
  readonly all: Answers;
  /** Without what was dismissed; the same where nothing was. */
  readonly open: Answers;
  readonly prices: JobPrices;
}

function answersOf(
  job: JobFacts,
  { rules }: AuditRuleset,
  dismissed: readonly AskedBack[],
): AllAnswers {
  const prices = pricesOf();
  const others = rules.filter(({ isAfterOthers }) => isAfterOthers !== true);
  const first = splitAnswers(job, answered(job, others, prices), dismissed, prices);
  if (others.length === rules.length) return first;
  const left = { ...job, documents: documentsLeftBy(job, first) };
  const last = rules.filter((rule) => !others.includes(rule));
  const given = [...first.all.given, ...answered(left, last, prices)];
  const inOrder = given.toSorted(
    (one, other) => rules.indexOf(one.rule) - rules.indexOf(other.rule),
  );
  return splitAnswers(job, inOrder, dismissed, prices);
}

function answered(job: JobFacts, rules: readonly AuditRule[], prices: JobPrices): Given[] {
  return rules.map((rule) => ({ rule, answer: rule.judge(job, prices) }));
}

function splitAnswers(
  job: JobFacts,
  given: readonly Given[],
  dismissed: readonly AskedBack[],
  prices: JobPrices,
): AllAnswers {
  const all = withSettled(job, given, prices);
  if (dismissed.length === 0) return { all, open: all, prices };
  const left = given.filter((each) => !isDismissed(job, each, dismissed, prices));
  const less = ({ rule, answer }: Given) => lessDismissed(rule.code, answer, dismissed);
  return { all, open: withSettled(job, left, prices, less), prices };
}

/** One document alone is held against nothing that others leave. */
function documentsLeftBy(
  { documents }: JobFacts,
  { open, prices }: AllAnswers,
): readonly JobDocument[] {
  return documents.length > 1 ? documentsAfter(documents, askedBackBy(open), prices) : documents;
}

function withSettled(
  job: JobFacts,
  given: readonly Given[],
  prices: JobPrices,
  answerOf = ({ answer }: Given): RuleAnswer => answer,
): Answers {
  return { given, settled: settledCorrections(job, given.map(answerOf), prices) };
}

function isDismissed(
  { documents }: JobFacts,
  { rule, answer }: Given,
  dismissed: readonly AskedBack[],
  prices: JobPrices,
): boolean {
  const own = dismissed.filter(({ ruleCode }) => ruleCode === rule.code);
  if (answer.outcome !== 'flagged' || own.length === 0) return false;
  const { corrections } = answer;
  const overCents = askedBackCents(documents, corrections, prices);
  return own.some((each) => answersFor(each, { ruleCode: rule.code, corrections, overCents }));
}

function correctedBy(job: JobFacts, answers: Answers, prices: JobPrices): CorrectedDocument[] {
  return correctDocuments(job.documents, wholeAfterOthers(job, askedBackBy(answers)), prices);
}

function askedBackBy({ given, settled }: Answers): Correction[] {
  const flagged = given.flatMap(({ answer }) =>
    answer.outcome === 'flagged' ? answer.corrections : [],
  );
  return [...flagged, ...settled];
}

/** A flag with nothing to give back asks for a look alone; one that was put right is none any more. */
function flagOf(
  job: JobFacts,
  { rule: { code, severity }, answer }: Given,
  { settled }: Answers,
  prices: JobPrices,
): JobFlag[] {
  if (answer.outcome !== 'flagged') return [];
  const { sentences, corrections }: Flagged = answer;
  const back = correctDocuments(job.documents, [...corrections, ...settled], prices);
  const overCents = corrections.length === 0 ? cents(0) : totalOf(back);
  if (overCents === 0 && wasPutRight(job, corrections, prices)) return [];
  const asks = overCents === 0 && severity === 'owed' ? 'look' : severity;
  return [{ ruleCode: code, severity: asks, sentences, corrections, overCents }];
}

function totalOf(corrected: readonly CorrectedDocument[]): Cents {
  return addCents(corrected.map(({ totalCents }) => totalCents));
}
