import type { DeliveryStep, MailCarrier } from '../../src/delivery/delivery-deps.ts';
import { startDelivering } from '../../src/delivery/start-delivering.ts';
import { openDatabase } from '../../src/platform/database/database.ts';
import { timedIds } from '../../src/platform/ids.ts';
import { fixedClock } from '../harness/fixed-clock.ts';
import { workerDeps } from './outbox.ts';

// A worker in a process of its own, that kills itself at one step: no handler runs, nothing is
// cleaned up, as when the machine goes dark.

interface Orders {
  databaseUrl: string;
  now: string;
  mail: MailCarrier;
  dieAt: DeliveryStep;
  /** How often it gets past that step before; never unless given. */
  survives?: number;
}

const orders = JSON.parse(process.argv[2] ?? '') as Orders;
const clock = fixedClock(orders.now);
const db = await openDatabase({ url: orders.databaseUrl, poolMax: 3, role: 'evenhand_app' });

let left = orders.survives ?? 0;

startDelivering(
  {
    ...workerDeps(),
    ...{ db, clock, ids: timedIds(clock), mail: orders.mail },
    atStep: async (step) => {
      if (step !== orders.dieAt) return;
      left -= 1;
      if (left >= 0) return;
      process.kill(process.pid, 'SIGKILL');
      // The signal needs a moment; nothing more may happen meanwhile.
      await new Promise(() => undefined);
    },
  },
  { everyMs: 20 },
);
process.stdout.write('ready');
