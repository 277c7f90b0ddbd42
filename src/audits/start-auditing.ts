import type { Logger } from 'pino';
import type { Clock } from '../platform/clock.ts';
import type { Ids } from '../platform/ids.ts';
import type { AuditDeps } from './audit-deps.ts';
import type { KnownBooks } from './book-shelf.ts';
import { continueRun } from './continue-run.ts';
import { followJournal } from './follow-journal.ts';

/** Somebody who judges in the background. */
export interface Auditing {
  /** Ends what is being judged; nothing runs after it resolves. */
  stop(): Promise<void>;
}

/**
 * Judges what the sealed journal tells of, and then every ticket that was not judged by the present
 * rules, again and again until stopped. A failure is logged and tried again. Several processes may
 * do so at once: one of them judges at a time.
 */
export function startAuditing(
  { db, clock, ids, log }: { db: AuditDeps['db']; clock: Clock; ids: Ids; log: Logger },
  everyMs = 2_000,
): Auditing {
  const known: KnownBooks = new Map();
  const deps: AuditDeps = {
    db,
    judging: () => ({ now: clock.now(), newId: () => ids.next(), known }),
  };
  let stopped = false;
  let timer: NodeJS.Timeout | undefined;
  let running = Promise.resolve();

  const turn = async () => {
    try {
      let isMore = true;
      while (isMore && !stopped) {
        // What changed today comes before what was judged by other rules.
        while ((await followJournal(deps)) > 0 && !stopped);
        isMore = !stopped && (await continueRun(deps));
      }
    } catch (error) {
      log.error({ err: error }, 'tickets could not be judged; trying again');
    }
    if (!stopped) timer = setTimeout(begin, everyMs);
  };
  const begin = () => {
    running = turn();
  };
  begin();

  return {
    stop: async () => {
      stopped = true;
      clearTimeout(timer);
      await running;
    },
  };
}
