import { type ChildProcess, fork } from 'node:child_process';
import { once } from 'node:events';
import type { AddressInfo } from 'node:net';
import { fileURLToPath } from 'node:url';
import { pino } from 'pino';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { StaffKey } from '../../seed/company.ts';
import { boardEvents } from '../../src/board/board-events.ts';
import { type Sealer, sealJournal, startSealer } from '../../src/journal/index.ts';
import { followBoard, type Told } from '../harness/board-stream.ts';
import { writeBusily } from '../harness/busy-writer.ts';
import { caseSeed } from '../harness/case-seed.ts';
import { followBrokenly, followToTheEnd, positionsOf } from '../harness/dropped-client.ts';
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

/** The last place, once everything that was written is sealed; the sealer works besides. */
async function tip(): Promise<number> {
  for (;;) {
    const found = await service.owner.query(
      `SELECT (SELECT count(*) FROM journal_unsealed)::int AS waiting,
         (SELECT max(position) FROM journal_seal)::int AS last`,
    );
    const { waiting, last } = found.rows[0] as { waiting: number; last: number };
    if (waiting === 0) return last;
    await sealJournal(service.db.pool);
  }
}

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

/** All that is sealed after a place and concerns boards. */
async function sealedAfter(place: number): Promise<number[]> {
  const found = await service.owner.query(
    `SELECT s.position::int AS position FROM journal_seal s
     JOIN journal_entry e ON e.id = s.entry_id
     WHERE s.position > $1 AND e.event = ANY ($2) ORDER BY s.position`,
    [place, boardEvents],
  );
  return found.rows.map(({ position }) => position as number);
}

/**
 * What a technician has to be told after a place, and what may be told besides. Every entry of an own
 * visit must be. Of a home it must be while a visit there is live; one that was live only in between
 * may have ended, with an entry of its own, before the journal was read.
 */
async function ownAfter(place: number, technicianId: string) {
  const found = await service.owner.query(
    `SELECT s.position::int AS position, e.event, own.id IS NOT NULL AS "isOwn",
       coalesce(bool_or(there.state IN ('booked', 'on_the_way', 'on_site')
         AND booked.position < s.position), false) AS "isLive"
     FROM journal_seal s
     JOIN journal_entry e ON e.id = s.entry_id
     LEFT JOIN visit own ON e.subject_kind = 'visit' AND own.id::text = e.subject_id
       AND own.technician_id = $3
     LEFT JOIN phone_check p ON e.subject_kind = 'phone_check' AND p.id::text = e.subject_id
     LEFT JOIN ticket t ON t.id::text = e.subject_id AND e.subject_kind = 'ticket'
       OR t.id = p.ticket_id
     LEFT JOIN ticket at_home ON at_home.site_id = t.site_id
     LEFT JOIN visit there ON there.ticket_id = at_home.id AND there.technician_id = $3
     LEFT JOIN (SELECT x.position, b.subject_id FROM journal_entry b
       JOIN journal_seal x ON x.entry_id = b.id WHERE b.event = 'visit.booked') booked
       ON booked.subject_id = there.id::text
     WHERE s.position > $1 AND e.event = ANY ($2) AND (own.id IS NOT NULL OR there.id IS NOT NULL)
     GROUP BY s.position, e.event, own.id ORDER BY s.position`,
    [place, boardEvents, technicianId],
  );
  return found.rows as { position: number; event: string; isOwn: boolean; isLive: boolean }[];
}

describe('a client that drops misses nothing', () => {
  it('is told each change once and in order, however often it is cut off while six people write', async () => {
    const { port } = service.app.server.address() as AddressInfo;
    const after = await tip();
    let writing = 6;
    const writers = Array.from({ length: writing }, async (_, monday) => {
      const at = await addSite(service);
      await writeBusily({ service, site: at, monday, everyWeeks: 6, seed: caseSeed + monday }, 40);
      writing -= 1;
    });
    const people = ['dispatcher', 'technician', 'second_technician'] as const;
    const drops = { dispatcher: 0, technician: 0, second_technician: 0 };
    const following = people.map((who, at) =>
      followBrokenly({
        ...{ port, token: service.staff[who].token, after, seed: caseSeed + 10 * at },
        isOver: (times) => {
          drops[who] = times;
          return writing === 0;
        },
      }),
    );
    await Promise.all(writers);
    const [office, ...own] = await Promise.all(following);
    await tip();
    const endOf = async (who: StaffKey, told: Told[], last: number) => {
      const { token } = service.staff[who];
      return positionsOf(await followToTheEnd({ port, token, after }, told, last));
    };
    for (const who of people) expect(drops[who], `seed ${caseSeed}`).toBeGreaterThan(20);
    const all = await sealedAfter(after);
    expect(all.length, `seed ${caseSeed}`).toBeGreaterThan(6 * 40);
    expect(
      await endOf('dispatcher', office ?? [], all.at(-1) ?? after),
      `seed ${caseSeed}`,
    ).toEqual(all);
    for (const [at, who] of (['technician', 'second_technician'] as const).entries()) {
      const ours = await ownAfter(after, service.staff[who].id);
      const must = ours.filter(({ isOwn, isLive }) => isOwn || isLive);
      const told = await endOf(who, own[at] ?? [], must.at(-1)?.position ?? after);
      const mustPlaces = must.map(({ position }) => position);
      expect(told.filter((place) => mustPlaces.some((each) => each === place))).toEqual(mustPlaces);
      const mayPlaces = ours.map(({ position }) => position);
      expect(told.filter((place) => !mayPlaces.some((each) => each === place))).toEqual([]);
      expect(told, `seed ${caseSeed}`).toEqual(
        [...new Set(told)].sort((a, b) => Number(a) - Number(b)),
      );
      // Nobody is told all, and somebody of danger at a home that a visit of theirs stands at.
      expect(told.length).toBeLessThan(all.length);
      expect(must.filter(({ isOwn }) => !isOwn).map(({ event }) => event)).toContain(
        'phone_check.ended',
      );
    }
  }, 240_000);

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
    const last = all.at(-1) ?? after;
    const told = await followToTheEnd({ port: second.port, token, after }, before, last);
    expect(positionsOf(told)).toEqual(all);
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
