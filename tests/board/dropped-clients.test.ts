import { type ChildProcess, fork } from 'node:child_process';
import { once } from 'node:events';
import type { AddressInfo } from 'node:net';
import { fileURLToPath } from 'node:url';
import fc from 'fast-check';
import { pino } from 'pino';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { StaffKey } from '../../seed/company.ts';
import { boardEvents } from '../../src/board/board-events.ts';
import { type Sealer, sealJournal, startSealer } from '../../src/journal/index.ts';
import { followBoard, type Told } from '../harness/board-stream.ts';
import { addSite, type Site } from '../harness/job.ts';
import { createTestService, expectStatus, type TestService } from '../harness/test-service.ts';

let service: TestService;
let sealer: Sealer;
let site: Site;
beforeEach(async () => {
  service = await createTestService();
  site = await addSite(service);
  sealer = startSealer(service.db.pool, 20, pino({ level: 'silent' }));
});
afterEach(async () => {
  await sealer.stop();
  for (const child of children.splice(0)) child.kill('SIGKILL');
  await service.close();
});
const children: ChildProcess[] = [];

const tip = async () => {
  while ((await sealJournal(service.db.pool)) > 0);
  const found = await service.owner.query('SELECT max(position)::int AS p FROM journal_seal');
  return found.rows[0].p as number;
};

/** Books, plans, sets out and cancels, over and over, until told to stop. */
async function write(writer: number, isOver: () => boolean): Promise<number> {
  const dispatcher = service.as('dispatcher');
  const who: StaffKey = writer % 2 === 0 ? 'technician' : 'second_technician';
  let count = 0;
  for (; !isOver(); count += 1) {
    const call = { siteId: site.siteId, complaint: 'It blows warm air.', symptoms: ['no_cooling'] };
    const ticket = expectStatus(await dispatcher.post('/v1/tickets', call), 201);
    // A week of Mondays at one in the afternoon for each writer, so that none is in another's way.
    const day = new Date(Date.UTC(2026, 6, 20 + 7 * (writer + 8 * count)))
      .toISOString()
      .slice(0, 10);
    const booked = await dispatcher.post('/v1/visits', {
      ticketId: ticket.body.id,
      technicianId: service.staff[who].id,
      ...{ windowStart: `${day}T18:00:00Z`, windowEnd: `${day}T20:00:00Z` },
      feeDisclosure: { toldFeeCents: 8_900, agreedBy: 'Winifred Ashgrove' },
    });
    const path = `/v1/visits/${expectStatus(booked, 201).body.id}`;
    const ifMatch = booked.headers['etag'] ?? '';
    const planned = { start: `${day}T18:15:00Z`, minutes: 45 };
    const again = expectStatus(
      await dispatcher.patch(`${path}/plan`, { planned }, { ifMatch }),
      200,
    );
    const tag = again.headers['etag'] ?? '';
    const isDriven = count % 2 === 0;
    const body = isDriven ? {} : { reason: 'They called it off.' };
    const end = `${path}/${isDriven ? 'start-travel' : 'cancel'}`;
    expectStatus(await dispatcher.post(end, body, { ifMatch: tag }), 200);
  }
  return count;
}

interface Dropping {
  token: string;
  /** Where it connects for the nth time. */
  portAt(turn: number): number;
  after: number;
  drops: number;
  seed: number;
}

/** Follows, is cut off at a random byte or moment, and comes back, over and over. */
async function followBrokenly({ token, portAt, after, drops, seed }: Dropping): Promise<Told[]> {
  const bytes = fc.sample(fc.integer({ min: 1, max: 1_200 }), { numRuns: drops, seed });
  const waits = fc.sample(fc.integer({ min: 1, max: 120 }), { numRuns: drops, seed: seed + 1 });
  const told: Told[] = [];
  for (let turn = 0; turn < drops; turn += 1) {
    const lastEventId = told.at(-1)?.id;
    const client = await followBoard({
      ...{ port: portAt(turn), token, after },
      ...(lastEventId !== undefined && { lastEventId }),
      dropAfterBytes: bytes[turn] ?? 1,
    });
    const timer = setTimeout(client.drop, waits[turn]);
    await client.ended;
    clearTimeout(timer);
    told.push(...client.told);
  }
  return told;
}

/** All that is sealed after a place and concerns boards, or one technician's own column. */
async function sealedAfter(place: number, technicianId?: string): Promise<number[]> {
  const found = await service.owner.query(
    `SELECT s.position::int AS position FROM journal_seal s
     JOIN journal_entry e ON e.id = s.entry_id
     LEFT JOIN visit v ON e.subject_kind = 'visit' AND v.id::text = e.subject_id
     WHERE s.position > $1 AND e.event = ANY ($2)
       AND ($3::uuid IS NULL OR v.technician_id = $3) ORDER BY s.position`,
    [place, boardEvents, technicianId ?? null],
  );
  return found.rows.map(({ position }) => position as number);
}

/** The rest, without being cut off. */
async function followToTheEnd(
  port: number,
  token: string,
  told: Told[],
  after: number,
  last: number,
) {
  const lastEventId = told.at(-1)?.id;
  const client = await followBoard({
    ...{ port, token, after },
    ...(lastEventId !== undefined && { lastEventId }),
  });
  await client.untilIt(() => Number((client.told.at(-1) ?? told.at(-1))?.id) >= last);
  client.drop();
  return [...told, ...client.told];
}

const positions = (told: readonly Told[]) =>
  told.map(({ id, event }) => (event === 'changed' ? Number(id) : event));

describe('a client that drops misses nothing', () => {
  it('is told each change once and in order, however often it is cut off while eight people write', async () => {
    const { port } = service.app.server.address() as AddressInfo;
    const after = await tip();
    let isOver = false;
    const writers = Array.from({ length: 8 }, (_, writer) => write(writer, () => isOver));
    const follow = (who: StaffKey, drops: number, seed: number) =>
      followBrokenly({ token: service.staff[who].token, portAt: () => port, after, drops, seed });
    const [office, own] = await Promise.all([
      follow('dispatcher', 200, 20260714),
      follow('technician', 100, 7),
    ]);
    isOver = true;
    const written = (await Promise.all(writers)).reduce((sum, count) => sum + count, 0);
    expect(written).toBeGreaterThanOrEqual(8);
    await tip();
    const ends = async (who: StaffKey, told: Told[], expected: number[]) =>
      positions(
        await followToTheEnd(port, service.staff[who].token, told, after, expected.at(-1) ?? after),
      );
    const all = await sealedAfter(after);
    expect(all.length).toBeGreaterThanOrEqual(5 * 8);
    expect(await ends('dispatcher', office, all)).toEqual(all);
    const ours = await sealedAfter(after, service.staff.technician.id);
    expect(ours.length).toBeGreaterThan(0);
    expect(ours.length).toBeLessThan(all.length);
    expect(await ends('technician', own, ours)).toEqual(ours);
  }, 180_000);

  it('also when the process that told it is killed and another one goes on', async () => {
    const after = await tip();
    const [first, second] = await Promise.all([startServing(), startServing()]);
    let isOver = false;
    const writers = Array.from({ length: 4 }, (_, writer) => write(writer, () => isOver));
    const { token } = service.staff.dispatcher;
    const client = await followBoard({ port: first.port, token, after });
    await client.until(12);
    first.child.kill('SIGKILL');
    await client.ended;
    const resumed = await followBoard({
      ...{ port: second.port, token },
      lastEventId: client.told.at(-1)?.id ?? '',
    });
    await resumed.until(12);
    resumed.drop();
    await resumed.ended;
    isOver = true;
    await Promise.all(writers);
    await tip();
    const all = await sealedAfter(after);
    const before = [...client.told, ...resumed.told];
    const told = await followToTheEnd(second.port, token, before, after, all.at(-1) ?? after);
    expect(positions(told)).toEqual(all);
  }, 180_000);
});

async function startServing(): Promise<{ child: ChildProcess; port: number }> {
  const file = fileURLToPath(new URL('serve-board.ts', import.meta.url));
  const child = fork(file, [service.url], {
    stdio: ['ignore', 'inherit', 'inherit', 'ipc'],
    execArgv: ['--import', 'tsx'],
  });
  children.push(child);
  const [url] = (await once(child, 'message')) as [string];
  return { child, port: Number(new URL(url).port) };
}
