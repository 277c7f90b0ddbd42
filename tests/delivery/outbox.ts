import type pg from 'pg';
import { pino } from 'pino';
import type { DeliveryDeps } from '../../src/delivery/delivery-deps.ts';
import { enqueueDelivery } from '../../src/outbox/index.ts';
import { inTx } from '../../src/platform/database/in-tx.ts';
import { timedIds } from '../../src/platform/ids.ts';
import { papers } from '../database/paper-rows.ts';
import { customerRow, id } from '../database/rows.ts';
import { stock } from '../database/stock.ts';
import { capacitorAndContactor } from '../documents/sample-papers.ts';
import { type FixedClock, fixedClock } from '../harness/fixed-clock.ts';
import { createTestDatabase, type TestDatabase } from '../harness/test-database.ts';

/** The row of one delivery, as far as the tests look at it. */
export interface StateRow {
  state: 'waiting' | 'sending' | 'sent' | 'dead';
  attempts: number;
  nextAt: Date | null;
  reason: string | null;
  handedOverAt: Date | null;
  messageId: string | null;
  sentTo: string | null;
}

/** A database with a paper in it, and an outbox to fill. */
export interface Outbox extends TestDatabase {
  clock: FixedClock;
  /** Everything a worker needs but the carrier. */
  deps: Omit<DeliveryDeps, 'mail'>;
  /** Lets so many mails wait, each to a customer of their own. */
  queue(
    count: number,
    change?: { email?: string | null; channel?: 'mail' | 'text' },
  ): Promise<string[]>;
  stateOf(deliveryId: string): Promise<StateRow>;
}

let people = 0;

export async function createOutbox(): Promise<Outbox> {
  const database = await createTestDatabase();
  await stock(database.owner);
  // After everything in the stock.
  const clock = fixedClock('2026-07-16T18:00:00Z');
  const ids = timedIds(clock);
  return {
    ...database,
    clock,
    deps: { ...workerDeps(), db: database.db, clock, ids },
    queue: async (count, { email, channel = 'mail' } = {}) => {
      const queued: string[] = [];
      for (let made = 0; made < count; made += 1) {
        people += 1;
        const customerId = id(5_000 + people);
        const address = email === undefined ? `person-${people}@customer.example` : email;
        await send(database.owner, customerRow({ id: customerId, email: address }));
        queued.push(
          await inTx(database.db, (tx) =>
            enqueueDelivery(
              { tx, now: clock.now(), newId: () => ids.next() },
              {
                ...{ paperId: papers.quote, channel, recipient: 'occupant', cause: 'asked' },
                customer: { id: customerId, language: 'en' },
              },
            ),
          ),
        );
      }
      return queued;
    },
    stateOf: async (deliveryId) => {
      const row = await database.db.prisma.deliveryState.findUniqueOrThrow({
        where: { deliveryId },
      });
      return row as StateRow;
    },
  };
}

/** What a worker is given that needs no database, here and in a process of its own. */
export function workerDeps(): Pick<
  DeliveryDeps,
  'log' | 'papers' | 'text' | 'mailFrom' | 'publicUrl'
> {
  return {
    log: pino({ level: 'silent' }),
    papers: {
      read: () =>
        Promise.resolve({
          paper: { kind: 'quote', paper: capacitorAndContactor },
          pdf: Buffer.from('%PDF-1.7 a paper'),
          fileName: 'quote-302.pdf',
        }),
    },
    text: undefined,
    mailFrom: undefined,
    publicUrl: 'https://company.example',
  };
}

async function send(owner: pg.Pool, { text, values }: { text: string; values: unknown[] }) {
  await owner.query(text, values);
}

/** How often a mail of this delivery is among what a server has. */
export function arrivalsOf(arrived: readonly string[], deliveryId: string): number {
  return arrived.filter((message) => message.includes(`Message-ID: <${deliveryId}@`)).length;
}
