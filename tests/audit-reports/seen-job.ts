import type { SeenFlag, SeenJob } from '../../src/audit-reports/count-jobs.ts';
import { cents } from '../../src/pricing/index.ts';

interface Wishes {
  chargedCents?: number;
  leftCents?: number;
  adjustedCents?: number;
  flags?: readonly SeenFlag[];
  cannotJudge?: SeenJob['cannotJudge'];
  bill?: boolean;
}

/** A job of which nothing is known but what is asked for. */
export function seenJob({
  chargedCents = 0,
  leftCents = chargedCents,
  adjustedCents = 0,
  flags = [],
  cannotJudge = [],
  bill = chargedCents > 0,
}: Wishes): SeenJob {
  const open = flags.filter(({ state }) => state === 'open');
  return {
    ...{ ticketId: 'ticket', ticketNumber: 1, endedAt: new Date('2026-07-14T12:00:00Z') },
    count: {
      ...{ technicianId: null, callTakerId: null, taskCodes: [], partCategories: [] },
      ...{ month: '2026-07', work: 'no_cooling', systemAgeYears: null, answers: {} },
      billedCents: cents(chargedCents),
    },
    ...{ billedCents: cents(chargedCents), leftCents: cents(leftCents), adjustedCents },
    openCents: cents(open.reduce((sum, { overCents }) => sum + overCents, 0)),
    ...{ flags, cannotJudge },
    has: { bill, sale: false, work: false, reset: false, cancellation: false },
  };
}
