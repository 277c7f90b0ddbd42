import { randomBytes, randomUUID } from 'node:crypto';
import supertest from 'supertest';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { z } from 'zod';
import type { StaffKey } from '../../seed/company.ts';
import { routes } from '../../src/app.ts';
import { hashOfToken } from '../../src/platform/access/token.ts';
import { type Route, read } from '../../src/platform/http/route.ts';
import { arriveAtJob, bookJob, draftQuote, findCapacitor, issueQuote } from '../harness/job.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';
import { access, openAddresses } from './access.ts';

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
});
afterAll(() => service.close());

const people = ['nobody', 'dispatcher', 'technician', 'owner'] as const;

describe('who may use what', () => {
  it('is written down for every route, and for no route that is gone', () => {
    expect(Object.keys(access).sort()).toEqual(routes.map((route) => route.operationId).sort());
  });

  const matrix = routes.flatMap((route) =>
    people.map((who) => {
      const allowed = access[route.operationId] ?? [];
      const may = allowed === 'everybody' || (who !== 'nobody' && allowed.includes(who));
      return { operationId: route.operationId, route, who, may, says: may ? 'may' : 'may not' };
    }),
  );

  it.each(matrix)('$who $says $operationId', async ({ route, who, may }) => {
    const path = route.path.replace(/:\w+/g, randomUUID());
    const client = service.as(who);
    // A body that is wrong everywhere: whoever may is told so, whoever may not learns nothing.
    const wrong = { nonsense: true };
    const answer =
      route.method === 'GET'
        ? await client.get(`${path}?nonsense=true`)
        : route.method === 'POST'
          ? await client.post(path, wrong)
          : await client.patch(path, wrong);
    if (who === 'nobody' && !may) expectProblem(answer, 'unauthenticated');
    else if (!may) expectProblem(answer, 'forbidden');
    else expectProblem(answer, takesFile(route) ? 'unsupported-media-type' : 'validation-failed');
    if (who === 'nobody' && !may) expect(answer.headers['www-authenticate']).toBe('Bearer');
  });

  it('is never left open: a route that does not say who may use it does not compile', () => {
    // @ts-expect-error access is missing
    const forgotten = read({
      operationId: 'forgotten',
      summary: 'Says nothing about access',
      tag: 'test',
      path: '/v1/forgotten',
      response: z.strictObject({}),
      handle: async () => ({ body: {} }),
    });
    expect(forgotten.access).toBeUndefined();
  });

  it.each(openAddresses)('%s is open to everybody', async (address) => {
    expect((await service.as('nobody').get(address)).status).toBeLessThan(400);
  });
});

describe('a token', () => {
  const ask = (authorization?: string) => {
    const request = supertest(service.app.server).get('/v1/company');
    return authorization === undefined ? request : request.set('authorization', authorization);
  };

  async function issueToken(who: StaffKey, expiresAt?: Date): Promise<string> {
    const token = randomBytes(32).toString('base64url');
    await service.owner.query(
      `INSERT INTO staff_token (id, staff_id, token_hash, created_at, expires_at)
       VALUES ($1, $2, $3, $4, $5)`,
      [
        randomUUID(),
        service.staff[who].id,
        hashOfToken(token),
        service.clock.now(),
        expiresAt ?? null,
      ],
    );
    return token;
  }

  it.each(['Bearer', 'bearer', 'BEARER'])(
    'opens the door under the scheme %s (RFC 9110, section 11.1: case does not matter)',
    async (scheme) => {
      expectStatus(await ask(`${scheme} ${service.staff.owner.token}`), 200);
    },
  );

  const garbage: [string, string | undefined][] = [
    ['nothing', undefined],
    ['an empty header', ''],
    ['only the scheme', 'Bearer'],
    ['the scheme and a blank', 'Bearer '],
    ['a token nobody has', `Bearer ${'A'.repeat(43)}`],
    ['SQL', "Bearer ' OR true --"],
    ['two tokens', 'Bearer one two'],
    ['another scheme', 'Basic b3duZXI6b3duZXI='],
    ['a very long token', `Bearer ${'x'.repeat(8_000)}`],
    ['a hash as token', `Bearer ${'0'.repeat(64)}`],
    ['letters beyond ASCII', 'Bearer ключ'.replace(/[^\x20-\xff]/g, 'é')],
  ];
  it.each(garbage)('is needed: %s is refused with 401', async (_, authorization) => {
    const refused = expectProblem(expectStatus(await ask(authorization), 401), 'unauthenticated');
    expect(refused.headers['www-authenticate']).toBe('Bearer');
  });

  it('without its scheme is refused', async () => {
    expectProblem(await ask(service.staff.owner.token), 'unauthenticated');
  });

  it('works until it expires and not at that instant', async () => {
    const expiry = new Date(service.clock.now().getTime() + 60_000);
    const token = await issueToken('technician', expiry);
    expectStatus(await ask(`Bearer ${token}`), 200);
    service.clock.advance(60_000);
    expectProblem(await ask(`Bearer ${token}`), 'unauthenticated');
  });

  it('ends at once when it is revoked; other tokens of the same person do not', async () => {
    const [lost, kept] = [await issueToken('technician'), await issueToken('technician')];
    await service.owner.query('UPDATE staff_token SET revoked_at = $1 WHERE token_hash = $2', [
      service.clock.now(),
      hashOfToken(lost),
    ]);
    expectProblem(await ask(`Bearer ${lost}`), 'unauthenticated');
    expectStatus(await ask(`Bearer ${kept}`), 200);
  });

  it('ends at once when its person leaves', async () => {
    const token = await issueToken('second_technician');
    const disable = (at: Date | null) =>
      service.owner.query('UPDATE staff SET disabled_at = $1 WHERE id = $2', [
        at,
        service.staff.second_technician.id,
      ]);
    await disable(service.clock.now());
    expectProblem(await ask(`Bearer ${token}`), 'unauthenticated');
    await disable(null);
    expectStatus(await ask(`Bearer ${token}`), 200);
  });

  it('is refused in the same words whatever is wrong with it, so nothing can be learned', async () => {
    const expired = await issueToken('technician', service.clock.now());
    const answers = [await ask(`Bearer ${expired}`), await ask(`Bearer ${'A'.repeat(43)}`)];
    const [one, other] = answers.map(({ body }) => ({ ...body, requestId: '' }));
    expect(one).toEqual(other);
  });

  it('is stored as a hash only', async () => {
    const stored = await service.owner.query('SELECT t::text AS row FROM staff_token t');
    for (const { row } of stored.rows) {
      for (const { token } of Object.values(service.staff)) expect(row).not.toContain(token);
    }
  });
});

describe('a technician', () => {
  it('is told the same about the visit of another as about one that is not there', async () => {
    const job = await arriveAtJob(service);
    const stranger = service.as('second_technician');
    const paths = (id: string) => [
      `/v1/visits/${id}`,
      `/v1/visits/${id}/evidence`,
      `/v1/visits/${id}/findings`,
      `/v1/visits/${id}/assessment?equipmentId=${job.outdoorId}`,
      `/v1/visits/${id}/last-good?equipmentId=${job.outdoorId}`,
    ];
    const acts: [string, object][] = [
      ['finish', { ticketIs: 'work_complete' }],
      ['report-no-access', { reason: 'Nobody at home.' }],
      ['start-travel', {}],
      ['arrive', {}],
      ['readings', { readings: [readingOf(job.outdoorId)] }],
      [
        'observations',
        { observations: [{ code: 'drain_pan_full', answer: 'yes', equipmentId: job.indoorId }] },
      ],
      [
        'findings',
        {
          equipmentId: job.outdoorId,
          faultCode: 'run_capacitor_herm',
          taskCode: 'replace_dual_run_capacitor',
          parts: [{ partCode: 'CAP-45-5-440', quantity: 1 }],
        },
      ],
    ];
    const missing = randomUUID();
    for (const [at, path] of paths(job.visitId).entries()) {
      const foreign = await stranger.get(path);
      sameRefusal(foreign, await stranger.get(paths(missing)[at] ?? ''), missing, job.visitId);
    }
    for (const [verb, body] of acts) {
      const post = (id: string) =>
        stranger.post(`/v1/visits/${id}/${verb}`, body, { ifMatch: job.visitTag });
      sameRefusal(await post(job.visitId), await post(missing), missing, job.visitId);
    }
  });

  it('is told the same about the quote of another as about one that is not there', async () => {
    const job = await arriveAtJob(service);
    const drafted = await draftQuote(service, job, [await findCapacitor(service, job)]);
    const quote = await issueQuote(service, drafted);
    const stranger = service.as('second_technician');
    const missing = randomUUID();
    for (const end of ['', '/paper', '?revision=1']) {
      const get = (id: string) => stranger.get(`/v1/quotes/${id}${end}`);
      sameRefusal(await get(quote.body.id), await get(missing), missing, quote.body.id);
    }
    const acts: [string, object][] = [
      ['issue', {}],
      ['withdraw', {}],
      ['revise', { options: [{ title: 'Repair', findingIds: [] }] }],
      ['decline', { declinedByName: 'Winifred Ashgrove', conditionLeft: 'Off.' }],
      [
        'accept',
        {
          optionId: quote.body.options[0].id,
          acceptedByName: 'Winifred Ashgrove',
          consentText: 'Yes.',
          shownTotalCents: quote.body.options[0].totalCents,
          shownContentHash: quote.body.contentHash,
        },
      ],
    ];
    for (const [verb, body] of acts) {
      const post = (id: string) =>
        stranger.post(`/v1/quotes/${id}/${verb}`, body, { ifMatch: quote.tag });
      sameRefusal(await post(quote.body.id), await post(missing), missing, quote.body.id);
    }
    const draftFor = (visitId: string) =>
      stranger.post('/v1/quotes', { visitId, options: [{ title: 'Repair', findingIds: [] }] });
    const [foreign, unknown] = [await draftFor(job.visitId), await draftFor(missing)];
    expectProblem(foreign, 'unknown-reference');
    expect({ ...foreign.body, requestId: '' }).toEqual({ ...unknown.body, requestId: '' });
  });

  it('sees own visits and quotes only in lists, whatever is asked for', async () => {
    const job = await bookJob(service);
    const mine = await service.as('technician').get(`/v1/visits?ticketId=${job.ticketId}`);
    expect(mine.body.items).toHaveLength(1);
    const stranger = service.as('second_technician');
    for (const path of [
      '/v1/visits',
      `/v1/visits?technicianId=${service.staff.technician.id}`,
      `/v1/visits?ticketId=${job.ticketId}`,
      '/v1/quotes',
      `/v1/quotes?ticketId=${job.ticketId}`,
    ]) {
      expect((await stranger.get(path)).body).toEqual({ items: [], nextCursor: null });
    }
  });
});

function takesFile(route: Route): boolean {
  return route.kind === 'act' && route.consumes !== undefined;
}

function readingOf(equipmentId: string) {
  const where = { equipmentId, point: 'capacitor_herm', method: 'clamp_meter' };
  return { ...where, quantity: 'current', value: 4.1, unit: 'A' };
}

type Answer = Awaited<ReturnType<ReturnType<TestService['as']>['get']>>;

function sameRefusal(foreign: Answer, unknown: Answer, missing: string, id: string): void {
  expectProblem(expectStatus(foreign, 404), 'not-found');
  const plain = ({ body }: Answer) => ({ ...body, requestId: '' });
  const instance = unknown.body.instance.replace(missing, id);
  expect(plain(foreign)).toEqual({ ...plain(unknown), instance });
}
