import { randomBytes, randomUUID } from 'node:crypto';
import type { FastifyInstance } from 'fastify';
import supertest from 'supertest';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { z } from 'zod';
import { canonicalJson } from '../../../src/platform/canonical-json.ts';
import { fingerprintOf, forgetOldReplies } from '../../../src/platform/http/idempotency.ts';
import { ProblemError } from '../../../src/platform/http/problem.ts';
import { act } from '../../../src/platform/http/route.ts';
import { sha256 } from '../../../src/platform/sha256.ts';
import { createBareApp } from '../../harness/bare-app.ts';
import { bookJob } from '../../harness/job.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../../harness/test-service.ts';

let service: TestService;
let bare: FastifyInstance;
beforeAll(async () => {
  service = await createTestService();
  bare = await createBareApp(service.db, [testOnlyRoute], { clock: service.clock });
});
afterAll(async () => {
  await bare.close();
  await service.close();
});

const caller = { name: 'Winifred Ashgrove', phone: '555-0111' };

async function rowsOf(table: 'customer' | 'journal_entry' | 'idempotency_key'): Promise<number> {
  const found = await service.owner.query(`SELECT count(*)::int AS rows FROM ${table}`);
  return found.rows[0].rows;
}

async function rowsOfEach() {
  return {
    customers: await rowsOf('customer'),
    entries: await rowsOf('journal_entry'),
    keys: await rowsOf('idempotency_key'),
  };
}

describe('an act repeated with its key', () => {
  it('is done once, and gives the first answer again byte for byte', async () => {
    const key = randomUUID();
    const before = await rowsOfEach();
    const first = await service.as('dispatcher').post('/v1/customers', caller, { key });
    const again = await service.as('dispatcher').post('/v1/customers', caller, { key });
    expectStatus(first, 201);
    expectStatus(again, 201);
    expect(again.text).toBe(first.text);
    for (const name of ['location', 'etag', 'content-type']) {
      expect(again.headers[name]).toBe(first.headers[name]);
      expect(first.headers[name]).toBeDefined();
    }
    expect(first.headers['idempotency-replayed']).toBeUndefined();
    expect(again.headers['idempotency-replayed']).toBe('true');
    expect(await rowsOfEach()).toEqual({
      customers: before.customers + 1,
      entries: before.entries + 1,
      keys: before.keys + 1,
    });
  });

  it('gives the first answer also after the thing itself has changed since', async () => {
    const key = randomUUID();
    const dispatcher = service.as('dispatcher');
    const first = await dispatcher.post('/v1/customers', caller, { key });
    const path = first.headers['location'] ?? '';
    expectStatus(
      await dispatcher.patch(
        path,
        { name: 'Winifred Elm' },
        { ifMatch: first.headers['etag'] ?? '' },
      ),
      200,
    );
    const again = await dispatcher.post('/v1/customers', caller, { key });
    expect(again.text).toBe(first.text);
  });

  it('gives a refusal again, although it would be allowed by now', async () => {
    const key = randomUUID();
    const job = await bookJob(service);
    const technician = service.as('technician');
    const early = () =>
      technician.post(`/v1/visits/${job.visitId}/arrive`, {}, { key, ifMatch: job.visitTag });
    const first = expectProblem(await early(), 'not-allowed-now');
    expectStatus(
      await technician.post(
        `/v1/visits/${job.visitId}/start-travel`,
        {},
        { ifMatch: job.visitTag },
      ),
      200,
    );
    const again = await early();
    expect(again.status).toBe(409);
    expect(again.text).toBe(first.text);
    expect(again.headers['content-type']).toBe(first.headers['content-type']);
    expect(again.headers['idempotency-replayed']).toBe('true');
  });

  it('does not keep what was never tried: a corrected request may use the same key', async () => {
    const key = randomUUID();
    const dispatcher = service.as('dispatcher');
    expectProblem(
      await dispatcher.post('/v1/customers', { name: '' }, { key }),
      'validation-failed',
    );
    expectStatus(await dispatcher.post('/v1/customers', caller, { key }), 201);
  });

  it('is the same act whatever order its fields come in', async () => {
    const key = randomUUID();
    const dispatcher = service.as('dispatcher');
    const first = await dispatcher.post('/v1/customers', caller, { key });
    const swapped = { phone: caller.phone, name: caller.name };
    expect((await dispatcher.post('/v1/customers', swapped, { key })).text).toBe(first.text);
  });
});

describe('a key used for something else', () => {
  it.each([
    ['another payload', { ...caller, name: 'Winifred Elm' }],
    ['one field more', { ...caller, email: 'winifred@example.com' }],
  ])('is refused with 422 for %s, and does nothing', async (_, other) => {
    const key = randomUUID();
    const dispatcher = service.as('dispatcher');
    expectStatus(await dispatcher.post('/v1/customers', caller, { key }), 201);
    const before = await rowsOfEach();
    const refused = await dispatcher.post('/v1/customers', other, { key });
    expectProblem(expectStatus(refused, 422), 'idempotency-key-reused');
    expect(await rowsOfEach()).toEqual(before);
  });

  it('is refused with 422 when it means another version, or another thing', async () => {
    const key = randomUUID();
    const [job, other] = [await bookJob(service), await bookJob(service)];
    const technician = service.as('technician');
    const travel = (visitId: string, ifMatch: string) =>
      technician.post(`/v1/visits/${visitId}/start-travel`, {}, { key, ifMatch });
    expectStatus(await travel(job.visitId, job.visitTag), 200);
    expectProblem(await travel(job.visitId, '"v9"'), 'idempotency-key-reused');
    expectProblem(await travel(other.visitId, other.visitTag), 'idempotency-key-reused');
  });

  // Answers are kept for a day, so a release must not make repeated requests look like others.
  it('is told by the query only where an act has one; all others look as they always did', () => {
    const request = { params: {}, body: caller, ifMatch: undefined };
    const before = sha256(canonicalJson({ params: {}, body: caller, ifMatch: null }));
    expect(fingerprintOf({ ...request, query: {} })).toBe(before);
    const told = ['place', 'other'].map((shows) => fingerprintOf({ ...request, query: { shows } }));
    expect(new Set([before, ...told]).size).toBe(3);
  });

  it('is another key for another person and for another route', async () => {
    const key = randomUUID();
    const first = await service.as('dispatcher').post('/v1/customers', caller, { key });
    const owner = await service.as('owner').post('/v1/customers', caller, { key });
    expectStatus(owner, 201);
    expect(owner.body.id).not.toBe(first.body.id);
    const site = {
      street: '3 Thistle Court',
      city: 'Wrenfield',
      region: 'QX',
      postalCode: '00000',
      occupantId: first.body.id,
    };
    expectStatus(await service.as('dispatcher').post('/v1/sites', site, { key }), 201);
  });
});

describe('fifty clients that send the same act at once', () => {
  it('get it done exactly once; the others get its answer or are told to wait', async () => {
    const key = randomUUID();
    const before = await rowsOfEach();
    const answers = await Promise.all(
      Array.from({ length: 50 }, () =>
        service.as('dispatcher').post('/v1/customers', caller, { key }),
      ),
    );
    const made = answers.filter(({ status }) => status === 201);
    const waiting = answers.filter(({ status }) => status !== 201);
    for (const answer of waiting) {
      expectProblem(expectStatus(answer, 409), 'request-in-progress');
      expect(answer.headers['retry-after']).toBe('1');
    }
    expect(new Set(made.map(({ text }) => text)).size).toBe(1);
    expect(
      made.filter(({ headers }) => headers['idempotency-replayed'] === undefined),
    ).toHaveLength(1);
    expect(await rowsOfEach()).toEqual({
      customers: before.customers + 1,
      entries: before.entries + 1,
      keys: before.keys + 1,
    });
  });
});

describe('the header', () => {
  it.each([
    ['missing', null],
    ['empty', ''],
    ['an empty string in quotes', '""'],
    ['only blanks', '   '],
    ['with a blank inside', 'two words'],
    ['longer than 200 characters', 'k'.repeat(201)],
    ['a tab', 'a\tb'],
    ['two keys', 'first, second'],
  ])('%s is refused with 400 before anything is done', async (_, key) => {
    const before = await rowsOfEach();
    const refused = await service.as('dispatcher').post('/v1/customers', caller, { key });
    expectProblem(expectStatus(refused, 400), 'idempotency-key-missing');
    expect(await rowsOfEach()).toEqual(before);
  });

  it('not in ASCII is refused with 400', async () => {
    const refused = await supertest(service.app.server)
      .post('/v1/customers')
      .set('authorization', `Bearer ${service.staff.dispatcher.token}`)
      .set('idempotency-key', 'clé')
      .send(caller);
    expectProblem(expectStatus(refused, 400), 'idempotency-key-missing');
  });

  it.each([
    "';DROP/**/TABLE/**/customer;--",
    '$1',
    '__proto__',
    'null',
    '\\"',
    '%00',
    '../../etc/passwd',
    'k'.repeat(200),
  ])('may be any visible text, such as %s', async (hostile) => {
    const key = `${hostile.slice(0, 180)}${randomBytes(5).toString('hex')}`;
    const first = await service.as('dispatcher').post('/v1/customers', caller, { key });
    const again = await service.as('dispatcher').post('/v1/customers', caller, { key });
    expectStatus(first, 201);
    expect(again.text).toBe(first.text);
  });

  // The IETF draft makes it a structured-field string, which is quoted; many clients send it bare.
  it('means the same quoted and bare', async () => {
    const key = randomUUID();
    const first = await service.as('dispatcher').post('/v1/customers', caller, { key: `"${key}"` });
    const again = await service.as('dispatcher').post('/v1/customers', caller, { key });
    expect(again.headers['idempotency-replayed']).toBe('true');
    expect(again.text).toBe(first.text);
  });
});

describe('what is kept', () => {
  it('is forgotten after 24 hours, and not before', async () => {
    const key = randomUUID();
    const dispatcher = service.as('dispatcher');
    const first = await dispatcher.post('/v1/customers', caller, { key });
    service.clock.advance(24 * 3_600_000);
    const onTime = await dispatcher.post('/v1/customers', caller, { key });
    expect(onTime.text).toBe(first.text);
    service.clock.advance(1);
    const later = expectStatus(await dispatcher.post('/v1/customers', caller, { key }), 201);
    expect(later.body.id).not.toBe(first.body.id);
    expect((await dispatcher.post('/v1/customers', caller, { key })).text).toBe(later.text);
  });

  it('is thrown away when it is too old to be repeated, and nothing else is', async () => {
    await service.as('dispatcher').post('/v1/customers', caller);
    const old = await rowsOf('idempotency_key');
    service.clock.advance(24 * 3_600_000 + 1);
    await service.as('dispatcher').post('/v1/customers', caller);
    expect(await forgetOldReplies(service.db.pool, service.clock.now())).toBe(old);
    expect(await rowsOf('idempotency_key')).toBe(1);
  });
});

// The effect is one customer; what comes after it is what the request asks for.
const testOnlyRoute = act({
  operationId: 'actAndThen',
  summary: 'Has an effect, and then something happens',
  tag: 'test',
  method: 'POST',
  path: '/v1/effects',
  access: ['owner'],
  body: z.strictObject({ next: z.enum(['succeed', 'break', 'refuse', 'lose_the_key']) }),
  response: z.strictObject({ id: z.uuid() }),
  status: 201,
  problems: ['not-allowed-now'],
  handle: async ({ tx, actor, now, newId }, { body }) => {
    const id = newId();
    const person = { ...caller, journalSalt: new Uint8Array(16), createdAt: now };
    await tx.customer.create({ data: { ...person, id } });
    switch (body.next) {
      case 'succeed':
        break;
      case 'break':
        throw new Error('the roof fell in');
      case 'refuse':
        throw new ProblemError('not-allowed-now', 'On second thought, no.');
      case 'lose_the_key':
        // A row in the place of the answer, so that keeping the answer fails after the effect.
        await tx.idempotencyKey.create({
          data: {
            actorId: actor.id,
            method: 'POST',
            route: '/v1/effects',
            key: 'lost',
            fingerprint: '',
            status: 200,
            headers: {},
            body: '',
            createdAt: now,
          },
        });
    }
    return { body: { id } };
  },
});

describe('effect and kept answer are one', () => {
  async function actAndThen(next: string, key: string) {
    return supertest(bare.server)
      .post('/v1/effects')
      .set('authorization', `Bearer ${service.staff.owner.token}`)
      .set('idempotency-key', key)
      .send({ next });
  }

  it('both are there after a success', async () => {
    const before = await rowsOfEach();
    expectStatus(await actAndThen('succeed', randomUUID()), 201);
    const after = await rowsOfEach();
    expect(after.customers).toBe(before.customers + 1);
    expect(after.keys).toBe(before.keys + 1);
  });

  it.each([
    ['the work breaks after its effect', 'break'],
    ['the answer cannot be kept', 'lose_the_key'],
  ])('neither is there when %s', async (_, next) => {
    const before = await rowsOfEach();
    const key = next === 'lose_the_key' ? 'lost' : randomUUID();
    expectProblem(expectStatus(await actAndThen(next, key), 500), 'internal-error');
    expect(await rowsOfEach()).toEqual(before);
  });

  it('a failure of ours is not kept: the same key tries again', async () => {
    const key = randomUUID();
    const first = expectStatus(await actAndThen('break', key), 500);
    const again = expectStatus(await actAndThen('break', key), 500);
    expect(again.headers['idempotency-replayed']).toBeUndefined();
    expect(again.body.requestId).not.toBe(first.body.requestId);
  });

  it('a refusal leaves its answer and nothing of what was done before it', async () => {
    const before = await rowsOfEach();
    expectProblem(await actAndThen('refuse', randomUUID()), 'not-allowed-now');
    const after = await rowsOfEach();
    expect(after.customers).toBe(before.customers);
    expect(after.keys).toBe(before.keys + 1);
  });
});
