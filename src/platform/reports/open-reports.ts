import type pg from 'pg';
import type { Logger } from 'pino';
import { type Database, openUnasked } from '../database/database.ts';
import { openWatch } from '../database/open-watch.ts';
import { ProblemError } from '../http/problem.ts';
import { watchReplica } from './watch-replica.ts';

/** A database that a report is read from. */
export type ReportSource = Pick<Database, 'prisma' | 'pool' | 'transact'>;

/** Makes a report out of whichever database reports are read from just now. */
export type ReadReport = <T>(make: (source: ReportSource) => Promise<T>) => Promise<T>;

/** Where reports are read. */
export interface Reports {
  read: ReadReport;
  close(): Promise<void>;
}

/** A replica, and what there is without it. */
export interface ReportsDeps {
  main: ReportSource;
  /** Connections to the main database apart from those that do the work. */
  watch: pg.Pool;
  replica: { url: string; role: string; answerMsMax: number };
  log: Logger;
  /** Told of each report where it is read; of one that the replica gives up, of both. */
  onRead(from: 'replica' | 'main'): void;
}

/**
 * Has reports read from a replica, so that people at work do not wait for them: from the main
 * database while the replica is away or behind, and whatever the replica gives up. Nobody who asks
 * hears of its troubles, and no report lacks what was committed before it was asked for.
 */
export function openReports({ main, watch, replica, log, onRead }: ReportsDeps): Reports {
  // The next report finds out by itself that a connection was lost.
  const source = openUnasked({ ...replica, poolMax: CONNECTIONS_MAX });
  const replicaWatch = openWatch({ ...replica, withinMs: ANSWER_MS_MAX });
  const pair = { main: watch, replica: replicaWatch, role: replica.role };
  const { isUsable, stop } = watchReplica(pair, log);
  const readFromMain: ReadReport = (make) => {
    onRead('main');
    return make(main);
  };
  // The log says at once whether it is used, not first when somebody asks for a report.
  void isUsable();
  return {
    read: async (make) => {
      if (!(await isUsable())) return readFromMain(make);
      onRead('replica');
      try {
        return await make(source);
      } catch (error) {
        // A refusal is an answer. Anything else may be the replica's: it cancels what is in the way of
        // what it follows (SQLSTATE 40001), goes away, has no connection free, takes too long.
        if (error instanceof ProblemError) throw error;
        log.warn({ err: error }, 'the replica gave up a report; the main database is asked for it');
        return readFromMain(make);
      }
    },
    close: async () => {
      stop();
      await source.close();
      await replicaWatch.end();
    },
  };
}

/** A replica that is far away is slow and of use all the same. */
const ANSWER_MS_MAX = 3_000;

/** Few: each report takes much of a server, and who asks for the next one can wait. */
const CONNECTIONS_MAX = 5;
