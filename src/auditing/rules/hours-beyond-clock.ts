import {
  type Cents,
  dollarsText,
  minutesText,
  ratioOf,
  roundHalfUpToCents,
} from '../../pricing/index.ts';
import { chargesOf } from '../jobs/charges-of.ts';
import type { BillFacts, JobFacts } from '../jobs/job-facts.ts';
import { cannotJudge, clear, flaggedBy } from './answers.ts';
import type { AuditRule } from './audit-rule.ts';
import { flaggedFor } from './flagged-for.ts';
import { isReset } from './is-reset.ts';
import { lowered } from './lowered.ts';

/** Time is charged by the quarter hour begun: common practice, no source. */
const STEP_MINUTES = 15;
const STEPS_PER_HOUR = 4;

/** Two people come to heavy work: common practice, no source. */
const PEOPLE_MAX = 2;

/**
 * Hours billed beyond those between arriving and leaving, counted by the quarter hour begun. A bill
 * does not say how many people came, and of two each has the clock's hours: up to twice the clock it
 * is a look and nothing goes back, and what is beyond that is owed. Our own tickets sell tasks by
 * their minutes, not hours by the clock, so there it holds by itself.
 */
export const hoursBeyondClock: AuditRule<'hours_beyond_clock'> = {
  code: 'hours_beyond_clock',
  statement:
    'No more hours are billed than somebody was there, by the quarter hour begun; up to twice as many may be those of two people.',
  severity: 'owed',
  source: 'Common practice, no source',
  judge: (job) => {
    if (job.bill === undefined) return clear;
    const { hours, clockMinutes } = job.bill;
    if (hours === undefined || clockMinutes === undefined)
      return cannotJudge(...missingOf(job.bill));
    const steps = Math.ceil(clockMinutes / STEP_MINUTES);
    if (!isBeyond(hours, steps)) return clear;
    const clock = clockText(hours, clockMinutes, steps);
    // That a reset carries no labor at all is said by another rule, and stricter.
    if (isResetAlone(job.bill)) return flaggedBy([`${clock}.`]);
    return isBeyond(hours, steps * PEOPLE_MAX)
      ? beyondTwo(job, hours, steps * PEOPLE_MAX, clock)
      : flaggedBy([`${clock}. ${HOW_MANY}`]);
  },
};

const HOW_MANY = 'The bill does not say how many people came: please look at whether two did.';

function isResetAlone({ fair }: BillFacts): boolean {
  return fair !== undefined && fair.taskCodes.length > 0 && fair.taskCodes.every(isReset);
}

function isBeyond(hours: string, steps: number): boolean {
  const { numerator, denominator } = ratioOf(hours);
  return numerator * BigInt(STEPS_PER_HOUR) > BigInt(steps) * denominator;
}

function beyondTwo({ documents }: JobFacts, hours: string, steps: number, clock: string) {
  const labor = documents.flatMap((document) =>
    chargesOf(document)
      .filter(({ line }) => line.kind === 'labor')
      .map((charge) => ({ document, ...charge, toCents: shareOf(charge.leftCents, hours, steps) })),
  );
  if (labor.length === 0) return flaggedBy([`${clock}. ${NOT_TOLD_APART}`]);
  const over = labor.filter(({ leftCents, toCents }) => toCents < leftCents);
  return flaggedFor(
    over.map(({ document, line: { key }, leftCents, toCents }) => {
      const sentence = `${clock}: labor of ${dollarsText(leftCents)} would have come to at most ${dollarsText(toCents)}.`;
      return lowered(document, key, toCents, sentence);
    }),
  );
}

const NOT_TOLD_APART =
  'The bill does not tell its labor apart, so nobody can say what the rest came to.';

function clockText(hours: string, clockMinutes: number, steps: number): string {
  const billed = `${hoursText(hours)} billed, ${minutesText(clockMinutes)} between arriving and leaving`;
  if (steps === 0) return billed;
  return `${billed}. By the quarter hour begun that is ${hoursOf(steps)} for one person and ${hoursOf(steps * PEOPLE_MAX)} for two`;
}

/** The same labor for fewer hours at the same rate, to the nearest cent. */
function shareOf(leftCents: Cents, hours: string, steps: number): Cents {
  const { numerator, denominator } = ratioOf(hours);
  return roundHalfUpToCents({
    numerator: BigInt(leftCents) * BigInt(steps) * denominator,
    denominator: BigInt(STEPS_PER_HOUR) * numerator,
  });
}

function missingOf({ hours, clockMinutes }: BillFacts) {
  return [
    ...(hours === undefined ? (['hours'] as const) : []),
    ...(clockMinutes === undefined ? (['clock'] as const) : []),
  ];
}

function hoursOf(steps: number): string {
  return hoursText(String(steps / STEPS_PER_HOUR));
}

function hoursText(hours: string): string {
  return hours === '1' ? '1 hour' : `${hours} hours`;
}
