import type { AddressInfo } from 'node:net';
import type { FastifyInstance } from 'fastify';
import pg from 'pg';
import supertest from 'supertest';
import { afterAll, afterEach, beforeAll, describe, expect, it, vi } from 'vitest';
import type { StaffKey } from '../../seed/company.ts';
import { boardEventSchema } from '../../src/board/contract.ts';
import { boardRoutes, type FeedBounds } from '../../src/board/index.ts';
import { sealJournal } from '../../src/journal/index.ts';
import { createBareApp } from '../harness/bare-app.ts';
import { type BoardClient, type FollowOptions, followBoard } from '../harness/board-stream.ts';
import { addSite, bookJob, type Job } from '../harness/job.ts';
import { takeCall } from '../harness/phone-checks.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
});
afterAll(() => service.close());

const open: BoardClient[] = [];
afterEach(() => {
  for (const client of open.splice(0)) client.drop();
});

type Place = Omit<FollowOptions, 'port' | 'token'>;

async function follow(
  who: StaffKey = 'dispatcher',
  place: Place = {},
  app: FastifyInstance = service.app,
): Promise<BoardClient> {
  const { port } = app.server.address() as AddressInfo;
  const client = await followBoard({ port, token: service.staff[who].token, ...place });
  open.push(client);
  return client;
}

/** A stream of its own service, with other bounds than ours. */
async function withBounds(
  feedBounds: Partial<FeedBounds>,
  work: (app: FastifyInstance) => Promise<void>,
) {
  const app = await createBareApp(service.db, boardRoutes, { feedBounds });
  try {
    await work(app);
  } finally {
    await app.close();
  }
}

const seal = async () => {
  while ((await sealJournal(service.db.pool)) > 0);
};

async function tip(): Promise<number> {
  await seal();
  const found = await service.owner.query(
    'SELECT max(position)::int AS position FROM journal_seal',
  );
  return found.rows[0].position ?? 0;
}

async function startTravel(job: Job): Promise<void> {
  const path = `/v1/visits/${job.visitId}/start-travel`;
  expectStatus(await service.as('technician').post(path, {}, { ifMatch: job.visitTag }), 200);
}

describe('whoever follows the board', () => {
  it('is told to read it first, and then of every change once it is sealed', async () => {
    const before = await tip();
    const client = await follow();
    await client.until(1);
    const job = await bookJob(service);
    await seal();
    const [reload, opened, moved, booked] = await client.until(4);
    expect(reload).toMatchObject({ event: 'reload', data: { position: expect.any(Number) } });
    expect([opened, moved, booked].map((each) => each?.data.event)).toEqual([
      'ticket.opened',
      'ticket.moved',
      'visit.booked',
    ]);
    expect(opened?.data).toMatchObject({ ticketId: job.ticketId, days: [] });
    expect(booked?.event).toBe('changed');
    expect(booked?.data).toMatchObject({
      visitId: job.visitId,
      ticketId: job.ticketId,
      technicianId: service.staff.technician.id,
    });
    const visit = await service.as('dispatcher').get(`/v1/visits/${job.visitId}`);
    expect(booked?.data.days).toContain(visit.body.windowStart.slice(0, 10));
    expect(Number(booked?.id)).toBeGreaterThan(before);
    for (const { id, data } of [opened, moved, booked].flatMap((each) => each ?? [])) {
      expect(boardEventSchema.parse(data).position).toBe(Number(id));
    }
  });

  it('is sent events, which nothing on the way keeps, stores or packs', async () => {
    const { response } = await follow();
    expect(response.statusCode).toBe(200);
    expect(response.headers).toMatchObject({
      'content-type': 'text/event-stream; charset=utf-8',
      'cache-control': 'no-store',
      'x-accel-buffering': 'no',
      'x-request-id': expect.any(String),
    });
    expect(response.headers['content-encoding']).toBeUndefined();
  });

  it('and only asks for the head gets it, and no stream', async () => {
    const client = await follow('dispatcher', { method: 'HEAD' });
    expect(client.response.statusCode).toBe(200);
    expect(client.response.headers['content-type']).toBe('text/event-stream; charset=utf-8');
    await client.ended;
  });

  it('comes back with the last identifier and is told what it missed, nothing twice', async () => {
    const from = await tip();
    const first = await follow('dispatcher', { after: from });
    const job = await bookJob(service);
    await seal();
    await first.until(3);
    first.drop();
    await startTravel(job);
    await seal();
    const last = first.told.at(-1)?.id ?? '';
    // An address that is opened again still says where it began; the header knows better.
    const second = await follow('dispatcher', { lastEventId: last, after: from });
    const [next] = await second.until(1);
    expect(next).toMatchObject({
      event: 'changed',
      data: { event: 'visit.moved', visitId: job.visitId },
    });
    expect(Number(next?.id)).toBeGreaterThan(Number(last));
  });

  it.each(['nonsense', '-1', '9999999999999999999999', '1e3'])(
    'with the identifier %s, which we never gave, reads the board again',
    async (lastEventId) => {
      const client = await follow('dispatcher', { lastEventId });
      expect((await client.until(1))[0]?.event).toBe('reload');
    },
  );

  it('from a place that the journal has not come to reads the board again', async () => {
    const client = await follow('dispatcher', { after: (await tip()) + 1_000 });
    expect((await client.until(1))[0]).toMatchObject({ event: 'reload', id: String(await tip()) });
  });

  it('too far behind reads the board again instead of being told everything', async () => {
    await withBounds({ behindMax: 5 }, async (app) => {
      await bookJob(service);
      await bookJob(service);
      const now = await tip();
      const near = await follow('dispatcher', { after: now - 5 }, app);
      expect((await near.until(1))[0]?.event).toBe('changed');
      const far = await follow('dispatcher', { after: now - 6 }, app);
      expect((await far.until(1))[0]).toMatchObject({ event: 'reload', id: String(now) });
    });
  });

  it('is refused a place that is none', async () => {
    for (const after of ['x', '-1', '1.5', '1e99']) {
      const answer = await service.as('dispatcher').get(`/v1/board/events?after=${after}`);
      expectProblem(answer, 'validation-failed');
    }
  });

  it('is told that the stream lives while nothing changes, and how far it has come', async () => {
    await withBounds({ keepAliveEveryMs: 30 }, async (app) => {
      const from = await tip();
      const client = await follow('second_technician', { after: from }, app);
      // None of it concerns this technician, who must not fall behind for that.
      await bookJob(service);
      const now = await tip();
      await client.untilIt(({ text }) => text().includes(`: still here\nid: ${now}\n`));
      expect(client.told).toEqual([]);
      expect(client.text()).toMatch(/^retry: 2000\n\n/);
    });
  });
});

describe('a technician', () => {
  it('is told of own visits alone, a dispatcher of all', async () => {
    const place = { after: await tip() };
    const [own, other, office] = [
      await follow('technician', place),
      await follow('second_technician', place),
      await follow('dispatcher', place),
    ];
    await takeCall(service);
    const job = await bookJob(service);
    await startTravel(job);
    await seal();
    const all = await office.until(5);
    const told = await own.until(4);
    expect(told.map(({ data }) => [data.event, data.visitId])).toEqual([
      ['ticket.opened', undefined],
      ['ticket.moved', undefined],
      ['visit.booked', job.visitId],
      ['visit.moved', job.visitId],
    ]);
    expect(told).toEqual(all.filter(({ data }) => data.ticketId === job.ticketId));
    expect(other.told).toEqual([]);
  });

  it('is told when the household of an own visit has another phone or name at the gate', async () => {
    const site = await addSite(service);
    await bookJob(service, site);
    const place = { after: await tip() };
    const [own, other] = [
      await follow('technician', place),
      await follow('second_technician', place),
    ];
    const dispatcher = service.as('dispatcher');
    const customer = await dispatcher.get(`/v1/customers/${site.customerId}`);
    const asRead = await dispatcher.get(`/v1/sites/${site.siteId}`);
    expectStatus(
      await dispatcher.patch(
        `/v1/customers/${site.customerId}`,
        { phone: '555-0142' },
        { ifMatch: customer.headers['etag'] ?? '' },
      ),
      200,
    );
    expectStatus(
      await dispatcher.patch(
        `/v1/sites/${site.siteId}`,
        { accessNotes: 'Gate at the back.' },
        { ifMatch: asRead.headers['etag'] ?? '' },
      ),
      200,
    );
    await seal();
    const told = await own.until(2);
    expect(told.map(({ data }) => data.event)).toEqual(['customer.changed', 'site.changed']);
    // It says that something changed, never what: the journal has hashes only.
    expect(own.text()).not.toContain('0142');
    expect(own.text()).not.toContain('Gate');
    expect(other.told).toEqual([]);
  });
});

describe('the service', () => {
  it('reads the journal once for all that follow, however many they are', async () => {
    await withBounds({ readEveryMs: 20, followersOfOneMax: 100 }, async (app) => {
      const query = vi.spyOn(pg.Client.prototype, 'query');
      const reads = () =>
        query.mock.calls.filter(([text]) => String(text).includes('journal_seal'));
      const perTurn = async () => {
        query.mockClear();
        await new Promise((resolve) => setTimeout(resolve, 400));
        return reads().length / 20;
      };
      try {
        const place = { after: await tip() };
        await follow('dispatcher', place, app);
        const alone = await perTurn();
        for (let at = 0; at < 30; at += 1) await follow('dispatcher', place, app);
        const together = await perTurn();
        expect(alone).toBeGreaterThan(0);
        expect(together).toBeLessThanOrEqual(1.1);
      } finally {
        query.mockRestore();
      }
    });
  });

  it('serves so many at once and tells the next when to try again', async () => {
    await withBounds({ followersMax: 2, officePlaces: 0 }, async (app) => {
      const one = await follow('dispatcher', {}, app);
      await follow('technician', {}, app);
      const ask = () =>
        supertest(app.server)
          .get('/v1/board/events')
          .set('authorization', `Bearer ${service.staff.owner.token}`);
      const refused = expectProblem(expectStatus(await ask(), 503), 'unavailable');
      expect(Number(refused.headers['retry-after'])).toBeGreaterThan(0);
      one.drop();
      const again = await vi.waitFor(async () => {
        const client = await follow('dispatcher', {}, app);
        expect(client.response.statusCode).toBe(200);
        return client;
      });
      expect((await again.until(1))[0]?.event).toBe('reload');
    });
  });

  it('gives one person three streams: the newest takes the place of the oldest, which ends whole', async () => {
    await withBounds({ readEveryMs: 20 }, async (app) => {
      const after = await tip();
      const clients: BoardClient[] = [];
      for (let at = 0; at < 5; at += 1) {
        clients.push(await follow('technician', { after }, app));
      }
      const [first, second, ...living] = clients;
      for (const old of [first, second]) {
        await old?.ended;
        expect(old?.response.complete).toBe(true);
        expect(old?.told).toEqual([
          { event: 'replaced', id: String(after), data: { position: after } },
        ]);
      }
      // Another person has their own.
      const other = await follow('second_technician', { after }, app);
      await bookJob(service);
      await seal();
      for (const client of living) {
        const told = await client.until(3);
        expect(told.map(({ data }) => data.event)).toContain('visit.booked');
      }
      expect(other.told).toEqual([]);
      expect(other.response.statusCode).toBe(200);
    });
  });

  it('gives one person no more of them when many come at once, and takes back all that ended', async () => {
    const bounds = { followersMax: 5, officePlaces: 1, readEveryMs: 20 };
    await withBounds(bounds, async (app) => {
      const after = await tip();
      const clients = await Promise.all(
        Array.from({ length: 12 }, () => follow('technician', { after }, app)),
      );
      const isReplaced = ({ told }: BoardClient) => told.some(({ event }) => event === 'replaced');
      await vi.waitFor(() => expect(clients.filter(isReplaced)).toHaveLength(9));
      const living = clients.filter((client) => !isReplaced(client));
      for (const client of living) client.drop();
      await Promise.all(clients.map(({ ended }) => ended));
      // All four places of technicians are free again.
      const wanted = ['second_technician', 'second_technician', 'second_technician', 'technician'];
      await vi.waitFor(async () => {
        const answered: (number | undefined)[] = [];
        for (const who of wanted as StaffKey[]) {
          answered.push((await follow(who, { after }, app)).response.statusCode);
        }
        expect(answered).toEqual([200, 200, 200, 200]);
      });
    });
  });

  it('keeps places for the office, however many technicians follow', async () => {
    await withBounds({ followersMax: 3, officePlaces: 2 }, async (app) => {
      await follow('technician', {}, app);
      const refused = await follow('second_technician', {}, app);
      expect(refused.response.statusCode).toBe(503);
      for (const who of ['dispatcher', 'owner'] as const) {
        expect((await follow(who, {}, app)).response.statusCode).toBe(200);
      }
    });
  });

  it('ends every stream when it closes, and does not wait for them', async () => {
    // The whole application, as it is started: that it lets go of its streams is its own doing.
    const own = await createTestService({ withPriceBook: false });
    const { port } = own.app.server.address() as AddressInfo;
    const { token } = own.staff.dispatcher;
    const clients = [await followBoard({ port, token }), await followBoard({ port, token })];
    for (const client of clients) await client.until(1);
    await own.close();
    await Promise.all(clients.map(({ ended }) => ended));
    for (const { response } of clients) expect(response.complete).toBe(true);
  });

  it('reads nothing when nobody follows any more', async () => {
    await withBounds({ readEveryMs: 20 }, async (app) => {
      const client = await follow('dispatcher', {}, app);
      await client.until(1);
      client.drop();
      await client.ended;
      const query = vi.spyOn(pg.Client.prototype, 'query');
      try {
        await vi.waitFor(async () => {
          query.mockClear();
          await new Promise((resolve) => setTimeout(resolve, 100));
          expect(query).not.toHaveBeenCalled();
        });
      } finally {
        query.mockRestore();
      }
    });
  });

  it('ends a stream whose token was revoked, and lets nobody in with it again', async () => {
    vi.useFakeTimers({ toFake: ['setInterval', 'clearInterval'] });
    try {
      const client = await follow('second_technician');
      await client.until(1);
      await service.owner.query('UPDATE staff_token SET revoked_at = $1 WHERE staff_id = $2', [
        service.clock.now(),
        service.staff.second_technician.id,
      ]);
      vi.advanceTimersByTime(60_000);
      await client.ended;
      expectProblem(
        await service.as('second_technician').get('/v1/board/events'),
        'unauthenticated',
      );
    } finally {
      vi.useRealTimers();
      await service.owner.query('UPDATE staff_token SET revoked_at = NULL WHERE staff_id = $1', [
        service.staff.second_technician.id,
      ]);
    }
  });
});
