import { randomBytes } from 'node:crypto';
import ICAL from 'ical.js';
import supertest from 'supertest';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { StaffKey } from '../../seed/company.ts';
import { createLog } from '../../src/platform/log.ts';
import { addSite, bookJob } from '../harness/job.ts';
import { sendAnswer, sendToChecks, startChecks } from '../harness/phone-checks.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';

let service: TestService;
let logged = '';
beforeAll(async () => {
  const write = (line: string) => {
    logged += line;
  };
  const log = createLog('trace', { write });
  service = await createTestService({ log });
});
afterAll(() => service.close());

const feedsOf = (who: StaffKey) => `/v1/technicians/${service.staff[who].id}/calendar-feeds`;

async function make(who: StaffKey = 'dispatcher', of: StaffKey = 'technician') {
  const made = expectStatus(await service.as(who).post(feedsOf(of)), 201);
  return { id: made.body.id as string, path: new URL(made.body.url).pathname, body: made.body };
}

const ask = (path: string, headers: Record<string, string> = {}) =>
  supertest(service.app.server).get(path).set(headers);

/** The events by the identifier of their visit, as an independent library reads them. */
async function eventsAt(path: string): Promise<Map<string, ICAL.Event>> {
  const { text } = expectStatus(await ask(path), 200);
  const found = new ICAL.Component(ICAL.parse(text)).getAllSubcomponents('vevent');
  return new Map(found.map((each) => new ICAL.Event(each)).map((event) => [event.uid, event]));
}

describe('the address of a calendar', () => {
  it('is told once, and stands nowhere: not in the list, the database, the journal or the log', async () => {
    const key = `calendar-${randomBytes(4).toString('hex')}`;
    const first = expectStatus(
      await service.as('dispatcher').post(feedsOf('technician'), {}, { key }),
      201,
    );
    const again = expectStatus(
      await service.as('dispatcher').post(feedsOf('technician'), {}, { key }),
      201,
    );
    expect(first.body.url).toMatch(/^http.*\/calendar\/[\w-]{43}\.ics$/);
    expect(again.body).toEqual({ ...first.body, url: null });
    const path = new URL(first.body.url).pathname;
    const token = path.replace('/calendar/', '').replace('.ics', '');
    await eventsAt(path);
    await ask(`/calendar/${token}x.ics`);
    await ask(`/calendar/${token.slice(1)}.ics`);
    const listed = expectStatus(await service.as('dispatcher').get(feedsOf('technician')), 200);
    expect(listed.body.items.map(({ id }: { id: string }) => id)).toContain(first.body.id);
    expect(listed.text).not.toContain(token);
    expect(logged).toContain('/calendar/[left out]');
    expect(logged).not.toContain(token.slice(1));
    const stored = await service.owner.query(
      `SELECT (SELECT json_agg(f) FROM calendar_feed f)::text || (SELECT json_agg(e) FROM journal_entry e)::text
        || (SELECT json_agg(k) FROM idempotency_key k)::text AS all`,
    );
    expect(stored.rows[0].all).toContain(first.body.id);
    expect(stored.rows[0].all).not.toContain(token);
  });

  it('answers with a calendar that tells nobody else where it was asked for', async () => {
    const { path } = await make();
    const { headers } = expectStatus(await ask(path), 200);
    expect(headers).toMatchObject({
      'content-type': 'text/calendar; charset=utf-8',
      'referrer-policy': 'no-referrer',
      'x-robots-tag': 'noindex, nofollow',
      'cache-control': 'private, no-cache',
    });
  });

  it('costs nothing where nothing changed', async () => {
    const { path } = await make();
    const etag = (await ask(path)).headers['etag'] ?? '';
    expect((await ask(path, { 'if-none-match': etag })).status).toBe(304);
    await bookJob(service);
    const after = await ask(path, { 'if-none-match': etag });
    expect(after.status).toBe(200);
    expect(after.headers['etag']).not.toBe(etag);
  });

  it('is worth nothing once it is revoked, and looks as if it had never been', async () => {
    const { id, path } = await make();
    const other = await make();
    expectStatus(await service.as('technician').post(`/v1/calendar-feeds/${id}/revoke`), 200);
    const [revoked, never] = [
      await ask(path),
      await ask(`/calendar/${randomBytes(32).toString('base64url')}.ics`),
    ];
    for (const answer of [revoked, never]) expectProblem(expectStatus(answer, 404), 'not-found');
    expect({ ...revoked.body, requestId: '' }).toEqual({ ...never.body, requestId: '' });
    expect(Object.keys(revoked.headers)).toEqual(Object.keys(never.headers));
    await eventsAt(other.path);
    const twice = await service.as('dispatcher').post(`/v1/calendar-feeds/${id}/revoke`);
    expectProblem(expectStatus(twice, 409), 'not-allowed-now');
  });

  it('ends when its technician leaves', async () => {
    const { path } = await make('owner', 'second_technician');
    await eventsAt(path);
    const disable = (at: Date | null) =>
      service.owner.query('UPDATE staff SET disabled_at = $1 WHERE id = $2', [
        at,
        service.staff.second_technician.id,
      ]);
    await disable(service.clock.now());
    expectProblem(await ask(path), 'not-found');
    await disable(null);
  });

  it.each(['', 'x', `${'a'.repeat(99)}`, '%00', '..%2f..', "';--"])(
    'that is none, "%s", leads nowhere',
    async (token) => {
      const answer = await ask(`/calendar/${token}.ics`);
      expect([400, 404]).toContain(answer.status);
      expect(answer.headers['content-type']).toBe('application/problem+json; charset=utf-8');
    },
  );
});

describe('a technician', () => {
  it('makes, sees and revokes own calendars alone', async () => {
    const own = await make('technician', 'technician');
    const stranger = service.as('second_technician');
    expectProblem(await stranger.post(feedsOf('technician')), 'not-found');
    expectProblem(await stranger.get(feedsOf('technician')), 'not-found');
    expectProblem(await stranger.post(`/v1/calendar-feeds/${own.id}/revoke`), 'not-found');
    await eventsAt(own.path);
  });

  it('has no calendar who is none', async () => {
    const path = `/v1/technicians/${service.staff.dispatcher.id}/calendar-feeds`;
    expectProblem(await service.as('owner').post(path), 'not-found');
  });
});

describe('what is in a calendar', () => {
  it('is every own visit of two weeks back and ninety days ahead, under one name for good', async () => {
    const { path } = await make();
    const at = (days: number) => {
      const start = new Date(service.clock.now().getTime() + days * 86_400_000);
      const end = new Date(start.getTime() + 30 * 60_000);
      return { windowStart: start.toISOString(), windowEnd: end.toISOString() };
    };
    const job = await bookJob(service, undefined, await priced(at(20)));
    const far = await bookJob(service, undefined, await priced(at(91)));
    expect([...(await eventsAt(path)).keys()]).toContain(job.visitId);
    expect([...(await eventsAt(path)).keys()]).not.toContain(far.visitId);
    const before = (await eventsAt(path)).get(job.visitId);
    const why = { reason: 'They called it off.' };
    const cancel = `/v1/visits/${job.visitId}/cancel`;
    expectStatus(await service.as('dispatcher').post(cancel, why, { ifMatch: job.visitTag }), 200);
    const after = (await eventsAt(path)).get(job.visitId);
    expect(after?.component.getFirstPropertyValue('status')).toBe('CANCELLED');
    expect(after?.sequence).toBeGreaterThan(before?.sequence ?? 0);
    service.clock.advance(35 * 86_400_000);
    expect([...(await eventsAt(path)).keys()]).not.toContain(job.visitId);
    service.clock.advance(-35 * 86_400_000);
  });

  async function priced(window: { windowStart: string; windowEnd: string }) {
    const asked = await service
      .as('dispatcher')
      .get(`/v1/visit-fee?windowStart=${window.windowStart}`);
    return { ...window, toldFeeCents: asked.body.feeCents };
  }

  it('names neither the household nor its phone nor what opens the gate', async () => {
    const { path } = await make();
    const site = await addSite(service);
    const sitePath = `/v1/sites/${site.siteId}`;
    const ifMatch = (await service.as('dispatcher').get(sitePath)).headers['etag'] ?? '';
    const notes = { accessNotes: 'The code of the gate is 4711.', street: '1, Oak; Row \\ "B"' };
    expectStatus(await service.as('dispatcher').patch(sitePath, notes, { ifMatch }), 200);
    const job = await bookJob(service, site);
    const { text } = await ask(path);
    for (const secret of ['4711', 'Ashgrove', '555-0111']) expect(text).not.toContain(secret);
    const event = (await eventsAt(path)).get(job.visitId);
    expect(event?.summary).toMatch(/^\d+ 1, Oak; Row \\ "B"$/);
    expect(event?.description).toContain('Notes on access are in the ticket.');
  });

  it('says to call the office while danger is told of the home, and not what was told', async () => {
    const { path } = await make();
    const job = await bookJob(service);
    const told = 'Call the office before you go in.';
    const before = (await eventsAt(path)).get(job.visitId);
    expect(before?.description).not.toContain(told);
    await startChecks(service, job.ticketId);
    service.clock.advance(60_000);
    expectStatus(await sendAnswer(service, job.ticketId, ['gas_smell', 'yes']), 200);
    const during = (await eventsAt(path)).get(job.visitId);
    expect(during?.description).toContain(told);
    // A calendar that has it already sees that it is another.
    expect(stampOf(during) - stampOf(before)).toBe(60_000);
    expect((await ask(path)).text.toLowerCase()).not.toContain('gas');
    const over = { note: 'The valve is closed.' };
    expectStatus(await sendToChecks(service, job.ticketId, 'danger-over', over), 200);
    expect((await eventsAt(path)).get(job.visitId)?.description).not.toContain(told);
  });

  function stampOf(event: ICAL.Event | undefined): number {
    const stamp = event?.component.getFirstPropertyValue('dtstamp') as ICAL.Time | undefined;
    return stamp?.toJSDate().getTime() ?? Number.NaN;
  }
});
