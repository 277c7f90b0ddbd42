import type { Logger } from 'pino';
import { catchUp, type Pair } from './catch-up.ts';

/** What says whether a replica may be read from. */
export interface ReplicaWatch {
  /** Whether it has everything that is committed by now; waits for it a little, and never rejects. */
  isUsable(): Promise<boolean>;
  /** Nothing is told any more. */
  stop(): void;
}

/**
 * Watches over a replica. The log is told once when it is not used any more, with the reason, and once
 * when it is used again. One that failed is left alone for a while, so that not everybody waits in vain.
 */
export function watchReplica(pair: Pair, log: Pick<Logger, 'info' | 'warn'>): ReplicaWatch {
  let restsUntilMs = 0;
  let told: string | undefined;
  let isStopped = false;
  const tell = (reason: string) => {
    if (isStopped || reason === told) return;
    told = reason;
    if (reason === NONE) log.info('reports are read from the replica');
    else log.warn({ reason }, 'reports are read from the main database');
  };
  return {
    isUsable: async () => {
      if (performance.now() < restsUntilMs) return false;
      try {
        await catchUp(pair);
        tell(NONE);
        return true;
      } catch (error) {
        restsUntilMs = performance.now() + REST_MS;
        tell(error instanceof Error ? error.message : 'unknown');
        return false;
      }
    },
    stop: () => {
      isStopped = true;
    },
  };
}

/** What is wrong with a replica that is used. */
const NONE = '';

/** One report in so long is late because of a replica that is away; and so soon it is used again. */
const REST_MS = 5_000;
