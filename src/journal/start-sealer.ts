import type pg from 'pg';
import type { Logger } from 'pino';
import { takeTurns } from '../platform/take-turns.ts';
import { sealJournal } from './seal-journal.ts';

/** A running sealer. */
export interface Sealer {
  /** How long ago it last came to the end of a piece of work, well or badly. */
  quietMs(): number;
  /** Seals what is waiting and ends; nothing runs after it resolves. */
  stop(): Promise<void>;
}

/**
 * Seals the journal every `everyMs` until stopped. A failure is logged and tried again.
 * @param nowMs a clock that only goes forward
 */
export function startSealer(
  pool: pg.Pool,
  everyMs: number,
  log: Logger,
  nowMs = () => performance.now(),
): Sealer {
  let lastSignMs = nowMs();
  const sealSome = async () => {
    try {
      return await sealJournal(pool);
    } finally {
      lastSignMs = nowMs();
    }
  };
  const sealAll = async (isStopping = () => false) => {
    while ((await sealSome()) > 0 && !isStopping());
  };
  const turns = takeTurns(sealAll, everyMs, (err) =>
    log.error({ err }, 'the journal could not be sealed; trying again'),
  );
  return {
    quietMs: () => nowMs() - lastSignMs,
    stop: async () => {
      await turns.stop();
      await sealAll().catch((err: unknown) =>
        log.warn({ err }, 'the last entries stay unsealed until the next start'),
      );
    },
  };
}
