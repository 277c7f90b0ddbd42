import { setTimeout as pause } from 'node:timers/promises';
import type { Logger } from 'pino';
import type { Clock } from '../platform/clock.ts';
import type { Ids } from '../platform/ids.ts';
import { type Turns, takeTurns } from '../platform/take-turns.ts';
import type { AuditDeps } from './audit-deps.ts';
import { continueRun } from './continue-run.ts';
import { followJournal } from './follow-journal.ts';
import { nothingKnown } from './known-terms.ts';

/**
 * Judges what the sealed journal tells of, and then every ticket that was not judged by the present
 * rules, again and again until stopped. A failure is logged and tried again. Several processes may
 * do so at once: one of them judges at a time.
 */
export function startAuditing(
  { db, clock, ids, log }: { db: AuditDeps['db']; clock: Clock; ids: Ids; log: Logger },
  everyMs = 2_000,
): Turns {
  const known = nothingKnown();
  const deps: AuditDeps = {
    db,
    judging: () => ({ now: clock.now(), newId: () => ids.next(), known }),
  };
  const judgeAll = async (isStopping: () => boolean) => {
    let isMore = true;
    while (isMore && !isStopping()) {
      // What changed today comes before what was judged by other rules.
      while ((await followJournal(deps)) > 0 && !isStopping());
      const startedAt = clock.now().getTime();
      isMore = !isStopping() && (await continueRun(deps));
      // A run over all tickets can wait; whoever works beside it is left every other moment.
      if (isMore) await pause(clock.now().getTime() - startedAt);
    }
  };
  return takeTurns(judgeAll, everyMs, (err) =>
    log.error({ err }, 'tickets could not be judged; trying again'),
  );
}
