import fc from 'fast-check';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { startDelivering } from '../../src/delivery/start-delivering.ts';
import { type Behavior, brokenServer, type Failing, STEPS } from './broken-server.ts';
import { arrivalsOf, createOutbox, type Outbox, type StateRow } from './outbox.ts';
import { until } from './until.ts';

// A law over servers that nobody thought of: fifty mails to a server that does something else at
// each connection, tried again over days. Whatever it does, nobody gets a mail twice, what counts as
// sent is there once, and what is dead says why.

const MAILS = 50;
const ROUNDS = 4;
const DAY = 24 * 3_600_000;

let outbox: Outbox;
beforeAll(async () => {
  outbox = await createOutbox();
});
afterAll(() => outbox.drop());

const failing: fc.Arbitrary<Failing> = fc.oneof(
  fc.constantFrom<Failing>({ does: 'drop' }, { does: 'stall' }),
  fc
    .constantFrom('421 bye', '450 busy', '452 full', '550 no', '554 never', '999 what', 'hm')
    .map((words): Failing => ({ does: 'reply', with: words })),
);
const behavior: fc.Arbitrary<Behavior> = fc.oneof(
  { weight: 2, arbitrary: fc.constant<Behavior>({}) },
  {
    weight: 5,
    arbitrary: fc
      .tuple(fc.constantFrom(...STEPS), failing)
      .map(([step, does]): Behavior => ({ [step]: does })),
  },
);

test('whatever servers do: no mail twice, sent is there once, dead says why', async () => {
  await fc.assert(
    fc.asyncProperty(fc.array(behavior, { minLength: 5, maxLength: 40 }), async (behaviors) => {
      const server = await brokenServer((connection) => ({
        ...behaviors[connection % behaviors.length],
      }));
      const deliveries = await outbox.queue(MAILS);
      const look = () => Promise.all(deliveries.map((id) => outbox.stateOf(id)));
      const worker = startDelivering(
        {
          ...outbox.deps,
          mail: {
            kind: 'smtp',
            server: {
              url: server.url,
              timeouts: { connectMs: 1_000, stepMs: 60, finalAnswerMs: 60 },
            },
          },
        },
        { everyMs: 10 },
      );
      for (let round = 0; round < ROUNDS; round += 1) {
        await until(look, (states) => states.every(isSettled));
        outbox.clock.advance(2 * DAY);
      }
      await worker.stop();
      await server.close();
      for (const [at, state] of (await look()).entries()) {
        expectLaw(state, arrivalsOf(server.arrived, deliveries[at] ?? ''));
      }
    }),
    { numRuns: 6 },
  );
}, 240_000);

function isSettled({ state, nextAt }: StateRow): boolean {
  if (state === 'waiting') return nextAt !== null && nextAt > outbox.clock.now();
  return state !== 'sending';
}

function expectLaw({ state, reason }: StateRow, arrivals: number): void {
  expect(arrivals, `${state}: ${reason}`).toBeLessThanOrEqual(1);
  if (state === 'sent') expect(arrivals).toBe(1);
  // What a machine goes on with has not arrived; what may have is dead and says that it may have.
  if (state === 'waiting') expect(arrivals).toBe(0);
  if (state === 'dead') {
    expect(reason).toMatch(/\S/);
    if (arrivals === 1) expect(reason).toContain('may have arrived');
  }
}
