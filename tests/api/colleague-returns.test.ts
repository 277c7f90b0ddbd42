import { afterAll, beforeAll, expect, it } from 'vitest';
import { arriveAtJob } from '../harness/job.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';
import { bookNext, capacitor, finishVisit, sellCapacitor } from '../harness/work.ts';

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
});
afterAll(() => service.close());

it('whoever comes back for accepted work sees what was agreed to at a colleague’s visit, and does it', async () => {
  const job = await arriveAtJob(service);
  const { quoteId, findingId } = await sellCapacitor(service, job);
  await finishVisit(service, job.visitId, 'waiting_for_part');
  const colleague = service.as('second_technician');
  const path = `/v1/quotes/${quoteId}`;
  expectProblem(await colleague.get(path), 'not-found');
  expect(await quotesOf(job.ticketId)).toEqual([]);

  const technicianId = service.staff.second_technician.id;
  const booked = await bookNext(service, job.ticketId, { purpose: 'return', technicianId });
  const visit = `/v1/visits/${expectStatus(booked, 201).body.id}`;
  let ifMatch = booked.headers['etag'] ?? '';
  for (const verb of ['start-travel', 'arrive']) {
    const moved = expectStatus(await colleague.post(`${visit}/${verb}`, {}, { ifMatch }), 200);
    ifMatch = moved.headers['etag'] ?? '';
  }
  const seen = expectStatus(await colleague.get(path), 200);
  expect(seen.body.acceptance.totalCents).toBe(seen.body.options[0].totalCents);
  expect(await quotesOf(job.ticketId)).toEqual([quoteId]);
  expectStatus(await colleague.get(`${path}/paper`), 200);
  const used = { quoteId, findingId, ...capacitor };
  expectStatus(await colleague.post(`${visit}/part-uses`, used), 201);
  const done = { quoteId, findingId, outcome: 'done' };
  expectStatus(await colleague.post(`${visit}/work-outcomes`, done), 201);
  // Seeing is not selling: the quote itself stays with the visit it was made at.
  const { headers } = await colleague.get(path);
  const withdrawn = await colleague.post(
    `${path}/withdraw`,
    {},
    { ifMatch: headers['etag'] ?? '' },
  );
  expectProblem(withdrawn, 'not-found');
});

async function quotesOf(ticketId: string): Promise<string[]> {
  const listed = await service.as('second_technician').get(`/v1/quotes?ticketId=${ticketId}`);
  return expectStatus(listed, 200).body.items.map(({ id }: { id: string }) => id);
}
