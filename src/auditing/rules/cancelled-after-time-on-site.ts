import { minutesText } from '../../pricing/index.ts';
import type { JobFinding, JobVisit } from '../jobs/job-facts.ts';
import { cannotJudge, clear, flaggedBy } from './answers.ts';
import type { AuditRule } from './audit-rule.ts';
import { millisecondsBetween } from './span-text.ts';

/** Longer than a look from the door: common practice, no source. */
const MINUTES_MAX = 15;
const MINUTE_MS = 60_000;

/**
 * Somebody was there for a while, and the ticket ended as if nobody had been: work off the books looks
 * so. Whoever waited at a door that nobody opened was not there.
 */
export const cancelledAfterTimeOnSite: AuditRule<'cancelled_after_time_on_site'> = {
  code: 'cancelled_after_time_on_site',
  statement: 'A ticket that somebody spent real time on is not cancelled.',
  severity: 'look',
  source: 'Common practice, no source',
  judge: ({ ended, visits, findings }) => {
    if (ended !== 'cancelled') return clear;
    if (visits === undefined) return cannotJudge('visits');
    const there = visits.filter(({ state }) => state !== 'no_access');
    const sentences = there.flatMap((visit) => sentenceOf(visit, findings));
    if (sentences.length > 0) return flaggedBy(sentences);
    const isOpen = there.some(({ arrivedAt, leftAt }) => arrivedAt !== null && leftAt === null);
    return isOpen ? cannotJudge('clock') : clear;
  },
};

function sentenceOf(
  { id, arrivedAt, leftAt }: JobVisit,
  findings: readonly JobFinding[] | undefined,
): string[] {
  if (arrivedAt === null || leftAt === null) return [];
  const stayedMs = millisecondsBetween(arrivedAt, leftAt);
  if (stayedMs <= MINUTES_MAX * MINUTE_MS) return [];
  const minutes = minutesText(Math.floor(stayedMs / MINUTE_MS));
  const isNothingFound = findings?.every(({ visitId }) => visitId !== id) === true;
  const why = isNothingFound ? ', and why no finding was written down' : '';
  return [
    `The ticket was cancelled after ${minutes} on site. Please look at what was done there${why}.`,
  ];
}
