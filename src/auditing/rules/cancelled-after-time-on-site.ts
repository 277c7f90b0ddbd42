import { minutesText } from '../../pricing/index.ts';
import type { JobVisit } from '../jobs/job-facts.ts';
import { cannotJudge, clear, flaggedBy } from './answers.ts';
import type { AuditRule } from './audit-rule.ts';
import { millisecondsBetween } from './span-text.ts';

/** Longer than a look from the door: common practice, no source. */
const MINUTES_MAX = 15;
const MINUTE_MS = 60_000;

/** Somebody was there for a while, and the ticket ended as if nobody had been: work off the books looks so. */
export const cancelledAfterTimeOnSite: AuditRule<'cancelled_after_time_on_site'> = {
  code: 'cancelled_after_time_on_site',
  statement: 'A ticket that somebody spent real time on is not cancelled.',
  severity: 'look',
  source: 'Common practice, no source',
  judge: ({ ended, visits }) => {
    if (ended !== 'cancelled') return clear;
    if (visits === undefined) return cannotJudge('visits');
    const sentences = visits.flatMap(sentenceOf);
    if (sentences.length > 0) return flaggedBy(sentences);
    const isOpen = visits.some(({ arrivedAt, leftAt }) => arrivedAt !== null && leftAt === null);
    return isOpen ? cannotJudge('clock') : clear;
  },
};

function sentenceOf({ arrivedAt, leftAt }: JobVisit): string[] {
  if (arrivedAt === null || leftAt === null) return [];
  const stayedMs = millisecondsBetween(arrivedAt, leftAt);
  if (stayedMs <= MINUTES_MAX * MINUTE_MS) return [];
  const minutes = minutesText(Math.floor(stayedMs / MINUTE_MS));
  return [
    `The ticket was cancelled after ${minutes} on site. Please look at what was done there, and why nothing was written down.`,
  ];
}
