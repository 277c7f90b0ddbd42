import { claimDelivery } from './claim-delivery.ts';
import { deliverOne } from './deliver-one.ts';
import type { DeliveryDeps } from './delivery-deps.ts';
import { recoverLost } from './recover-lost.ts';

/** A running worker. */
export interface Delivering {
  /** Ends what nothing is lost by, waits a little for the answers to what is out, and ends. */
  stop(): Promise<void>;
}

export interface DeliveringOptions {
  /** How often the outbox is looked into. */
  everyMs?: number;
  /** How long a stop waits for answers to mails that are handed over. */
  stopWithinMs?: number;
}

/** So many at once: one server that takes minutes to answer must not hold up the others' mail. */
const LANES = 4;
/** Well within the lease: what is not handed over by then is ended and put back. */
const BEFORE_THE_END_MS = 2 * 60_000;
/** Beyond what a server is given for its last answer, for one that keeps the line busy meanwhile. */
const AFTER_THE_END_MS = 11 * 60_000;

/**
 * Delivers what is due, again and again until stopped. A failure of the database is logged and the
 * outbox looked into again. Several workers share one outbox.
 */
export function startDelivering(
  deps: DeliveryDeps,
  { everyMs = 1_000, stopWithinMs = 8_000 }: DeliveringOptions = {},
): Delivering {
  const lanes = new Set<Lane>();
  let stopping = false;
  let timer: NodeJS.Timeout | undefined;
  let looking = Promise.resolve();

  const look = async () => {
    try {
      await recoverLost(deps);
      while (!stopping && lanes.size < LANES) {
        const claimed = await claimDelivery(deps.db, deps.clock.now());
        if (claimed === undefined) break;
        const lane = startLane(deps, claimed, () => stopping);
        lanes.add(lane);
        void lane.done.then(() => {
          lanes.delete(lane);
          // The next one is taken at once, not at the next look.
          if (!stopping) begin();
        });
      }
    } catch (error) {
      deps.log.error({ err: error }, 'the outbox could not be looked into; trying again');
    }
    if (stopping) return;
    clearTimeout(timer);
    timer = setTimeout(begin, everyMs);
  };
  const begin = () => {
    clearTimeout(timer);
    looking = looking.then(look);
  };
  begin();

  return {
    stop: async () => {
      stopping = true;
      clearTimeout(timer);
      await looking;
      for (const lane of lanes) lane.endBeforeTheEnd();
      const answers = Promise.all([...lanes].map(({ done }) => done));
      const leave = setTimeout(() => {
        for (const lane of lanes) lane.end();
      }, stopWithinMs);
      await answers;
      clearTimeout(leave);
    },
  };
}

interface Lane {
  done: Promise<void>;
  /** Ends it unless its mail is handed over. */
  endBeforeTheEnd(): void;
  end(): void;
}

function startLane(
  deps: DeliveryDeps,
  claimed: Parameters<typeof deliverOne>[1],
  isStopping: () => boolean,
): Lane {
  const controller = new AbortController();
  const end = () => controller.abort();
  let handedOver = false;
  let timer = setTimeout(end, BEFORE_THE_END_MS);
  const onHandedOver = () => {
    handedOver = true;
    clearTimeout(timer);
    timer = setTimeout(end, AFTER_THE_END_MS);
  };
  const done = deliverOne(deps, claimed, { signal: controller.signal, onHandedOver, isStopping })
    .catch((error: unknown) => {
      // Its lease runs out, and then it is found again.
      deps.log.error({ err: error, deliveryId: claimed.id }, 'a delivery could not be settled');
    })
    .finally(() => clearTimeout(timer));
  return {
    done,
    end,
    endBeforeTheEnd: () => {
      if (!handedOver) end();
    },
  };
}
