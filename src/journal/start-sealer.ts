import type pg from 'pg';
import type { Logger } from 'pino';
import { sealJournal } from './seal-journal.ts';

/** A running sealer. */
export interface Sealer {
  /** Seals what is waiting and ends; nothing runs after it resolves. */
  stop(): Promise<void>;
}

/** Seals the journal every `everyMs` until stopped. A failure is logged and tried again. */
export function startSealer(pool: pg.Pool, everyMs: number, log: Logger): Sealer {
  let stopped = false;
  let timer: NodeJS.Timeout | undefined;
  let running = Promise.resolve();

  const turn = async () => {
    try {
      while ((await sealJournal(pool)) > 0 && !stopped);
    } catch (error) {
      log.error({ err: error }, 'the journal could not be sealed; trying again');
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
      try {
        while ((await sealJournal(pool)) > 0);
      } catch (error) {
        log.warn({ err: error }, 'the last entries stay unsealed until the next start');
      }
    },
  };
}
