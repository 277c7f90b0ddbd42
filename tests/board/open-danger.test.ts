import type { AddressInfo } from 'node:net';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import type { StaffKey } from '../../seed/company.ts';
import { sealJournal } from '../../src/journal/index.ts';
import { type BoardClient, followBoard } from '../harness/board-stream.ts';
import { addSite, bookJob, freeWindow, type Job, type Site } from '../harness/job.ts';
import { endDanger, smellGas, startChecks, takeCall } from '../harness/phone-checks.ts';
import { createTestService, expectStatus, type TestService } from '../harness/test-service.ts';

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
});
afterAll(() => service.close());

const open: BoardClient[] = [];
afterEach(() => {
  for (const client of open.splice(0)) client.drop();
});

async function tip(): Promise<number> {
  while ((await sealJournal(service.db.pool)) > 0);
  const found = await service.owner.query('SELECT max(position)::int AS p FROM journal_seal');
  return found.rows[0].p;
}

async function follow(who: StaffKey, after: number): Promise<BoardClient> {
  const { port } = service.app.server.address() as AddressInfo;
  const client = await followBoard({ port, token: service.staff[who].token, after });
  open.push(client);
  return client;
}

/** A booked visit, with the day that its work stands on. */
async function bookedAt(site?: Site): Promise<Job & { day: string }> {
  const window = freeWindow();
  return { ...(await bookJob(service, site, window)), day: window.windowStart.slice(0, 10) };
}

async function moves(job: Job, ...verbs: readonly string[]): Promise<void> {
  const path = `/v1/visits/${job.visitId}`;
  for (const verb of verbs) {
    const ifMatch = (await service.as('technician').get(path)).headers['etag'] ?? '';
    const body = verb === 'finish' ? { ticketIs: 'waiting_for_answer' } : {};
    expectStatus(await service.as('technician').post(`${path}/${verb}`, body, { ifMatch }), 200);
  }
}

async function dangersOn({ visitId, day }: { visitId: string; day: string }, who: StaffKey) {
  const { body } = expectStatus(await service.as(who).get(`/v1/board?day=${day}`), 200);
  const visits = body.columns.flatMap(
    (column: { visits: { visitId: string; openDangers: unknown }[] }) => column.visits,
  );
  return visits.find((visit: { visitId: string }) => visit.visitId === visitId).openDangers;
}

const gasAt = ({ ticketId }: { ticketId: string }) => [
  { code: 'gas', since: service.clock.now().toISOString(), ticketId },
];

describe('danger that is told by phone', () => {
  it.each([
    ['is booked', []],
    ['is on the way', ['start-travel']],
    ['is on site', ['start-travel', 'arrive']],
  ])('reaches the technician who %s, and again when it is over', async (_, verbs) => {
    const job = await bookedAt();
    await startChecks(service, job.ticketId);
    await moves(job, ...verbs);
    const place = await tip();
    const [own, other] = [
      await follow('technician', place),
      await follow('second_technician', place),
    ];
    await smellGas(service, job.ticketId);
    await tip();
    const told = await own.until(2);
    expect(told.map(({ data }) => [data.event, data.ticketId])).toEqual([
      ['phone_check.answered', job.ticketId],
      ['phone_check.ended', job.ticketId],
    ]);
    expect(await dangersOn(job, 'technician')).toEqual(gasAt(job));
    expect(await dangersOn(job, 'dispatcher')).toEqual(gasAt(job));
    await endDanger(service, job.ticketId);
    await tip();
    expect((await own.until(3)).at(-1)?.data.event).toBe('phone_check.danger_over');
    expect(await dangersOn(job, 'technician')).toEqual([]);
    expect(other.told).toEqual([]);
    // Which danger it is, and of whom, is read from the board alone.
    expect(own.text()).not.toContain('gas');
  });

  it('reaches whoever is sent to the same home for another ticket', async () => {
    const site = await addSite(service);
    const job = await bookedAt(site);
    await moves(job, 'start-travel');
    const call = await takeCall(service, { site });
    await startChecks(service, call.ticketId);
    const own = await follow('technician', await tip());
    await smellGas(service, call.ticketId);
    await tip();
    expect((await own.until(2)).map(({ data }) => data.ticketId)).toEqual([
      call.ticketId,
      call.ticketId,
    ]);
    expect(await dangersOn(job, 'technician')).toEqual(gasAt(call));
    const path = `/v1/tickets/${call.ticketId}`;
    const ifMatch = (await service.as('dispatcher').get(path)).headers['etag'] ?? '';
    const why = { reason: 'The gas company sees to it.' };
    expectStatus(await service.as('dispatcher').post(`${path}/cancel`, why, { ifMatch }), 200);
    await tip();
    // A ticket that has ended has no danger that anybody could still be sent into.
    expect((await own.until(3)).at(-1)?.data).toMatchObject({ event: 'ticket.moved' });
    expect(await dangersOn(job, 'technician')).toEqual([]);
  });

  it('is every one of several that are open, the first told first', async () => {
    const site = await addSite(service);
    const job = await bookedAt(site);
    const calls = [await takeCall(service, { site }), await takeCall(service, { site })];
    for (const { ticketId } of calls) {
      service.clock.advance(60_000);
      await startChecks(service, ticketId);
      await smellGas(service, ticketId);
    }
    const told = await dangersOn(job, 'technician');
    expect(told.map(({ ticketId }: { ticketId: string }) => ticketId)).toEqual(
      calls.map(({ ticketId }) => ticketId),
    );
    expect(told[0].since < told[1].since).toBe(true);
  });

  it('stands at nobody else’s visit, and at none that is over', async () => {
    const site = await addSite(service);
    const [over, elsewhere, there] = [await bookedAt(site), await bookedAt(), await bookedAt(site)];
    await moves(over, 'start-travel', 'arrive', 'finish');
    const call = await takeCall(service, { site });
    await startChecks(service, call.ticketId);
    await smellGas(service, call.ticketId);
    expect(await dangersOn(over, 'technician')).toEqual([]);
    expect(await dangersOn(elsewhere, 'technician')).toEqual([]);
    expect(await dangersOn(there, 'technician')).toEqual(gasAt(call));
  });
});
