import { addCents, type Cents } from '../../pricing/index.ts';
import { findFault } from '../../trade/index.ts';
import { chargesOf } from '../jobs/charges-of.ts';
import type { JobFacts, JobFinding } from '../jobs/job-facts.ts';
import type { JobJudgement } from '../judge-job.ts';
import { isReset } from '../rules/is-reset.ts';
import type { JobCount } from './job-count.ts';
import type { MeasureCode } from './measures.ts';

/** What is counted of a job that the rules do not look at; absent where it is not known. */
export interface BesideJob
  extends Pick<JobCount, 'technicianId' | 'callTakerId' | 'month' | 'work' | 'systemAgeYears'> {
  /** The same fault came back within the days of a callback; only once they are over. */
  readonly cameBack?: boolean;
  /** The complaint was gone after the first repair. */
  readonly isCured?: boolean;
  /** Of several options the dearest was taken; only where there was a choice. */
  readonly tookDearest?: boolean;
  readonly readAfterWork?: boolean;
  /** Only of calls that could be solved by phone. */
  readonly solvedByPhone?: boolean;
}

/** A judged job as it is counted. */
export function countOfJob(
  job: JobFacts,
  judgement: JobJudgement,
  { technicianId, callTakerId, month, work, systemAgeYears, ...beside }: BesideJob,
): JobCount {
  const sold = (job.findings ?? []).filter(({ id }) => isSold(job, id));
  return {
    ...{ technicianId, callTakerId, month, work, systemAgeYears },
    taskCodes: [...new Set(sold.map(({ taskCode }) => taskCode))],
    partCategories: [
      ...new Set(sold.flatMap(({ parts }) => parts.map(({ category }) => category))),
    ],
    answers: answersOf(job, judgement, sold, beside),
    billedCents: billedCents(job),
  };
}

type Known = Omit<BesideJob, 'technicianId' | 'callTakerId' | 'month' | 'work' | 'systemAgeYears'>;

function answersOf(
  job: JobFacts,
  judgement: JobJudgement,
  sold: readonly JobFinding[],
  { cameBack, isCured, tookDearest, readAfterWork, solvedByPhone }: Known,
): JobCount['answers'] {
  const hasReset = (job.findings ?? []).some(({ taskCode }) => isReset(taskCode));
  const isBilled = hasWorkBilled(job);
  const answers: Record<MeasureCode, boolean | undefined> = {
    reset_billed: hasReset ? isFlagged(judgement, 'reset_billed_as_repair') : undefined,
    unproven: isBilled ? isFlagged(judgement, 'line_without_finding') : undefined,
    above_book: isBilled ? isAboveBook(judgement) : undefined,
    came_back: isBilled ? cameBack : undefined,
    dearest_taken: tookDearest,
    solved_by_phone: solvedByPhone,
    cause_found: hasReset ? (job.findings ?? []).some(isCauseFound) : undefined,
    cured_first_time: isBilled ? isCured : undefined,
    proven: sold.length > 0 ? sold.every(({ standing }) => standing === 'proven') : undefined,
    read_after_work: isBilled ? readAfterWork : undefined,
  };
  const known = Object.entries(answers).filter(([, answer]) => answer !== undefined);
  return Object.fromEntries(known);
}

/** Whether a rule flagged the job; undefined where it could not be held against it. */
function isFlagged(
  { flags, cannotJudge }: JobJudgement,
  ruleCode: string,
  isMeant: (flag: JobJudgement['flags'][number]) => boolean = () => true,
): boolean | undefined {
  if (flags.some((flag) => flag.ruleCode === ruleCode && isMeant(flag))) return true;
  return cannotJudge.some((each) => each.ruleCode === ruleCode) ? undefined : false;
}

function isAboveBook(judgement: JobJudgement): boolean | undefined {
  const isOver = ({ overCents }: JobJudgement['flags'][number]) => overCents > 0;
  const answers = ['above_ceiling', 'differs_from_book'].map((code) =>
    isFlagged(judgement, code, isOver),
  );
  if (answers.includes(true)) return true;
  return answers.includes(undefined) ? undefined : false;
}

/** A fault that can bring others about, carried by readings. */
function isCauseFound({ faultCode, standing }: JobFinding): boolean {
  const isCause = findFault(faultCode)?.role === 'cause';
  return isCause && (standing === 'proven' || standing === 'supported');
}

function isSold({ documents }: JobFacts, findingId: string): boolean {
  return documents.some(({ lines }) =>
    lines.some(({ findingIds }) => findingIds.includes(findingId)),
  );
}

function hasWorkBilled({ documents }: JobFacts): boolean {
  return documents.some((document) =>
    chargesOf(document).some(({ line, leftCents }) => leftCents > 0 && line.kind !== 'visit_fee'),
  );
}

function billedCents({ documents }: JobFacts): Cents {
  return addCents(
    documents.flatMap((document) => chargesOf(document).map(({ leftCents }) => leftCents)),
  );
}
