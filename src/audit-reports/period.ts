import { companyOf, localDays, localDayText } from '../company/index.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ReadContext } from '../platform/http/route.ts';

/** Local days from the first to the last, with the instants between which they lie. */
export interface Period {
  readonly firstDay: string;
  readonly lastDay: string;
  readonly from: Date;
  readonly to: Date;
  readonly timeZone: string;
  /** `June 1, 2026 to June 30, 2026`. */
  readonly words: string;
}

/**
 * The period that was asked for.
 * @throws ProblemError 422 when it ends before it begins
 */
export async function periodOf(
  { prisma }: Pick<ReadContext, 'prisma'>,
  { from: firstDay, to: lastDay }: { from: string; to: string },
): Promise<Period> {
  if (lastDay < firstDay) {
    throw new ProblemError('validation-failed', 'Some fields are not as expected.', {
      errors: [{ in: 'query', pointer: '/to', code: 'wrong_days', message: 'is before from' }],
    });
  }
  const { timeZone } = await companyOf(prisma);
  const inWords = (day: string) => localDayText(new Date(`${day}T12:00:00Z`), 'UTC', 'en');
  const isOneDay = firstDay === lastDay;
  const words = isOneDay ? inWords(firstDay) : `${inWords(firstDay)} to ${inWords(lastDay)}`;
  return { firstDay, lastDay, ...localDays(firstDay, lastDay, timeZone), timeZone, words };
}
