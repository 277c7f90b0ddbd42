import { continueRun } from '../../src/audits/continue-run.ts';
import { nothingKnown } from '../../src/audits/known-terms.ts';
import { openDatabase } from '../../src/platform/database/database.ts';
import { timedIds } from '../../src/platform/ids.ts';
import { fixedClock } from '../harness/fixed-clock.ts';

// Somebody who judges in a process of its own, and dies at one moment of a piece of a run: no handler
// runs and nothing is cleaned up, as when the machine goes dark.

/** Before it judged, with everything written and not committed, and with all of it committed. */
export const MOMENTS = ['judging', 'written', 'committed'] as const;
export type Moment = (typeof MOMENTS)[number];

export interface AuditorOrders {
  databaseUrl: string;
  now: string;
  ticketsMax: number;
  dieAt: Moment;
  /** So many pieces it gets past that moment before. */
  survives: number;
}

const [, , text] = process.argv;
if (text !== undefined && process.argv[1]?.endsWith('mortal-auditor.ts')) {
  // Whoever started this wrote the orders.
  await judgeUntilDeath(JSON.parse(text) as AuditorOrders);
}

async function judgeUntilDeath(orders: AuditorOrders): Promise<void> {
  const db = await openDatabase({ url: orders.databaseUrl, poolMax: 2, role: 'evenhand_app' });
  const clock = fixedClock(orders.now);
  const ids = timedIds(clock);
  const known = nothingKnown();
  let left = orders.survives;
  const reach = (moment: Moment) => {
    if (moment !== orders.dieAt) return;
    left -= 1;
    if (left < 0) die();
  };
  const transact: typeof db.transact = async (work, level) => {
    const done = await db.transact(async (tx) => {
      const result = await work(tx);
      reach('written');
      return result;
    }, level);
    reach('committed');
    return done;
  };
  const judging = () => {
    reach('judging');
    return { now: clock.now(), newId: () => ids.next(), known };
  };
  while (await continueRun({ db: { pool: db.pool, transact }, judging }, orders.ticketsMax));
  await db.close();
}

function die(): never {
  process.kill(process.pid, 'SIGKILL');
  // The signal needs a moment; nothing more may happen meanwhile.
  for (;;) Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0);
}
