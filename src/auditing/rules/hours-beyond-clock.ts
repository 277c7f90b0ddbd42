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

/** Time is charged by the quarter hour begun: common practice, no source. */
const STEP_MINUTES = 15;
const STEPS_PER_HOUR = 4;

/**
 * Hours billed beyond those between arriving and leaving, counted by the quarter hour begun. A bill
 * does not say how many people were there; of two each has the clock's hours, which its sentence
 * leaves room for. Our own tickets sell tasks by their minutes, not hours by the clock, so there it holds by itself.
 */
export const hoursBeyondClock: AuditRule<'hours_beyond_clock'> = {
  code: 'hours_beyond_clock',
  statement: 'No more hours are billed than somebody was there, by the quarter hour begun.',
  severity: 'owed',
  source: 'Common practice, no source',
  judge: (job) => {
    if (job.bill === undefined) return clear;
    const { hours, clockMinutes } = job.bill;
    if (hours === undefined || clockMinutes === undefined)
      return cannotJudge(...missingOf(job.bill));
    const steps = Math.ceil(clockMinutes / STEP_MINUTES);
    const billed = ratioOf(hours);
    if (billed.numerator * BigInt(STEPS_PER_HOUR) <= BigInt(steps) * billed.denominator)
      return clear;
    return beyond(job, { hours, clockMinutes, steps });
  },
};

interface Beyond {
  readonly hours: string;
  readonly clockMinutes: number;
  readonly steps: number;
}

function beyond({ documents }: JobFacts, { hours, clockMinutes, steps }: Beyond) {
  const counted = hoursText(String(steps / STEPS_PER_HOUR));
  const clock = `${hoursText(hours)} billed, ${minutesText(clockMinutes)} between arriving and leaving. For one person, by the quarter hour begun, that is ${counted}`;
  const labor = documents.flatMap((document) =>
    chargesOf(document)
      .filter(({ line }) => line.kind === 'labor')
      .map((charge) => ({ document, ...charge, toCents: shareOf(charge.leftCents, hours, steps) })),
  );
  if (labor.length === 0) {
    return flaggedBy([
      `${clock}. The bill does not tell its labor apart, so nobody can say what the rest came to.`,
    ]);
  }
  const over = labor.filter(({ leftCents, toCents }) => toCents < leftCents);
  return flaggedBy(
    over.map(
      ({ leftCents, toCents }) =>
        `${clock}: labor of ${dollarsText(leftCents)} would have come to ${dollarsText(toCents)}.`,
    ),
    over.map(({ document: { invoiceId, position }, line: { key }, toCents }) => ({
      invoiceId,
      position,
      key,
      toCents,
    })),
  );
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

function hoursText(hours: string): string {
  return hours === '1' ? '1 hour' : `${hours} hours`;
}
