import { randomUUID } from 'node:crypto';
import type { Readable } from 'node:stream';
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { routes } from '../../src/app.ts';
import type { Route } from '../../src/platform/http/route.ts';
import { assertContract } from '../harness/assert-contract.ts';
import { beginDraft } from '../harness/draft.ts';
import { arriveAtJob, bookJob, draftQuote, findCapacitor, issueQuote } from '../harness/job.ts';
import { openShop } from '../harness/shop.ts';
import { createTestService, type TestService } from '../harness/test-service.ts';
import type { KnownIds } from './hostile-input.ts';
import { type HostileRequest, hostileRequest } from './hostile-request.ts';

// More requests and another seed find more: FUZZ_RUNS=2000 FUZZ_SEED=7 npx vitest run this file.
const RUNS = Number(process.env['FUZZ_RUNS'] ?? 36);
const SEED = Number(process.env['FUZZ_SEED'] ?? 20260714);

let service: TestService;
let ids: KnownIds;
beforeAll(async () => {
  service = await createTestService();
  const { shelvesId, truckId, otherTruckId } = await openShop(service);
  const [job, booked] = [await arriveAtJob(service), await bookJob(service)];
  const finding = await findCapacitor(service, job);
  const draft = await draftQuote(service, job, [finding]);
  const issued = await issueQuote(service, await draftQuote(service, job, [finding]));
  const agreement = {
    ...{ planCode: 'two_visits', startsOn: '2026-01-01', endsOn: '2027-01-01' },
    agreedByName: 'Winifred Ashgrove',
  };
  const agreed = await service.as('owner').post(`/v1/sites/${job.siteId}/agreements`, agreement);
  // More than one: what is hostile may also drop a draft or publish it.
  const drafts = [];
  for (let at = 0; at < 5; at += 1) drafts.push(await beginDraft(service));
  const book = await service.as('owner').get('/v1/price-books/in-force');
  const jobs = [job, booked];
  ids = {
    draftId: drafts.map(({ id }) => id),
    priceBookId: [book.body.id],
    customerId: [job.customerId],
    occupantId: [job.customerId],
    siteId: jobs.map(({ siteId }) => siteId),
    agreementId: [agreed.body.id],
    planCode: [agreement.planCode],
    systemId: jobs.map(({ systemId }) => systemId),
    equipmentId: [job.outdoorId, job.indoorId],
    ticketId: jobs.map(({ ticketId }) => ticketId),
    visitId: jobs.map(({ visitId }) => visitId),
    findingId: [finding],
    findingIds: [finding],
    quoteId: [draft.body.id, issued.body.id],
    optionId: [issued.body.options[0].id],
    technicianId: [service.staff.technician.id],
    placeId: [shelvesId, truckId],
    toPlaceId: [otherTruckId, truckId],
  };
});
afterAll(() => service.close());

async function send(route: Route, { path, query, body }: HostileRequest) {
  const payloadAsStream = route.kind === 'stream';
  const answer = await service.app.inject({
    payloadAsStream,
    method: route.method,
    url: query === '' ? path : `${path}?${query}`,
    headers: {
      authorization: `Bearer ${service.staff.owner.token}`,
      'idempotency-key': randomUUID(),
      'if-match': '*',
      ...(body !== undefined && { 'content-type': body.mediaType }),
    },
    ...(body !== undefined && { payload: body.content }),
  });
  const isJson = String(answer.headers['content-type']).includes('json');
  // A stream that was let in has no end; its beginning is all there is to see.
  const text = payloadAsStream ? await beginningOf(answer.stream()) : answer.body;
  return {
    status: answer.statusCode,
    headers: Object.fromEntries(
      Object.entries(answer.headers).map(([name, value]) => [name, String(value)]),
    ),
    text,
    body: isJson ? JSON.parse(text) : undefined,
    request: { url: path },
  };
}

async function beginningOf(stream: Readable): Promise<string> {
  for await (const chunk of stream) return String(chunk);
  return '';
}

describe('whatever a client sends, the answer is in the contract and never our mistake', () => {
  const seen = new Map<number, number>();

  it.each(routes.map((route) => [route.operationId, route] as const))('%s', async (_, route) => {
    await fc.assert(
      fc.asyncProperty(hostileRequest(route, ids), async (sent) => {
        const answer = await send(route, sent);
        expect(answer.status, answer.text).toBeLessThan(500);
        assertContract(answer, route.method);
        seen.set(answer.status, (seen.get(answer.status) ?? 0) + 1);
      }),
      { numRuns: RUNS, seed: SEED },
    );
  });

  it('got through as well as it was refused, or it would have tested the front door only', () => {
    expect([...seen.values()].reduce((sum, count) => sum + count, 0)).toBeGreaterThanOrEqual(
      routes.length * RUNS,
    );
    for (const status of [200, 201, 400, 404, 409, 422]) {
      expect(seen.get(status) ?? 0, `answers with ${status}`).toBeGreaterThan(10);
    }
  });
});
