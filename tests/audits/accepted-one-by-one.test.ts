import { afterAll, beforeAll, expect, it } from 'vitest';
import { tagged } from '../harness/tagged.ts';
import { createTestService, expectStatus, type TestService } from '../harness/test-service.ts';
import { type BilledJob, billedJob, overtax } from './billed-job.ts';
import { auditDepsOf, judged } from './judged.ts';
import { pastGuards } from './past-guards.ts';

/*
 * What a ticket's judgement shows as too much is what its flags give back through the API, whichever
 * is accepted first, and after each what was given back and what is still shown come to the same.
 */
let service: TestService;

beforeAll(async () => {
  service = await createTestService();
});
afterAll(() => service.close());

it.each([
  ['the first first', (open: readonly Flag[]) => open[0]],
  ['the last first', (open: readonly Flag[]) => open.at(-1)],
] as const)('flags of one ticket come to what is shown of it: %s', async (_, choose) => {
  const job = await wrongTwice();
  const { overCents } = await audited(job);
  let givenCents = 0;
  let steps = 0;
  for (let next = choose(await openFlags(job)); next; next = choose(await openFlags(job))) {
    givenCents += await accept(next);
    steps += 1;
    expect(givenCents + (await audited(job)).overCents).toBe(overCents);
  }
  expect(givenCents).toBe(overCents);
  expect(steps).toBeGreaterThan(1);
});

interface Flag {
  readonly id: string;
  readonly ticketId: string;
  readonly overCents: number;
}

/** Billed for work whose finding is not proven, with the fee of a call at a callback, and taxed too much. */
async function wrongTwice(): Promise<BilledJob> {
  const job = await billedJob(service);
  await overtax(service, job, 200);
  const toCallback = "UPDATE visit SET purpose = 'callback', fee_cents = 0 WHERE ticket_id = $1";
  await pastGuards(service, [toCallback], [job.ticketId]);
  const toUnproven = "UPDATE finding SET standing = 'unproven', priceable = false WHERE id = $1";
  await pastGuards(service, [toUnproven], [job.findingId]);
  await judged(auditDepsOf(service));
  return job;
}

async function audited({ ticketId }: BilledJob): Promise<{ overCents: number }> {
  return expectStatus(await service.as('owner').get(`/v1/audit/tickets/${ticketId}`), 200).body;
}

async function openFlags({ ticketId }: BilledJob): Promise<Flag[]> {
  const list = await service.as('owner').get('/v1/audit/flags?limit=100&state=open');
  const { items } = expectStatus(list, 200).body;
  return items.filter((flag: Flag) => flag.ticketId === ticketId && flag.overCents > 0);
}

/** @returns what it gave back */
async function accept({ id }: Flag): Promise<number> {
  const path = `/v1/audit/flags/${id}`;
  const { tag } = tagged(expectStatus(await service.as('owner').get(path), 200));
  const answer = await service.as('owner').post(`${path}/accept`, {}, { ifMatch: tag });
  const memos: { totalCents: number }[] = expectStatus(answer, 200).body.answer.creditMemos;
  return memos.reduce((sum, { totalCents }) => sum + totalCents, 0);
}
