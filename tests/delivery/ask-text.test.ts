import { afterAll, beforeAll, expect, test } from 'vitest';
import { paperOf } from '../harness/delivery.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';
import { type Offer, offerAtLink, visit, yesForm } from '../harness/visitor.ts';
import { finishVisit, sendClose } from '../harness/work.ts';
import { handToAnother } from './readers.ts';

// A text is the link to a quote. Where nobody could answer at it, asking for one says so at once.

const DAY = 24 * 3_600_000;
let service: TestService;
beforeAll(async () => {
  service = await createTestService();
});
afterAll(() => service.close());

async function ask({ job }: Offer, to: 'occupant' | 'approver' | 'payer') {
  const paperId = await paperOf(service, job.ticketId, 'quote');
  const path = `/v1/papers/${paperId}/deliveries` as const;
  return service.as('dispatcher').post(path, { to, channel: 'text' });
}

const waits = 'Only a quote that waits for its answer can be sent as a text.';

const tooLate: Record<string, (offer: Offer) => Promise<void>> = {
  'was answered': async (offer) => {
    const reader = await visit(service, offer);
    expectStatus(await reader.post(`${offer.page}/accept`, yesForm(offer)), 303);
  },
  'has run out': async () => service.clock.advance(60 * DAY),
  'has run out, and whose job was closed': async ({ job }) => {
    service.clock.advance(60 * DAY);
    await finishVisit(service, job.visitId, 'waiting_for_answer');
    const change = { complaintGone: 'no', noReadingsWhy: 'Nobody answered the quote.' };
    expectStatus(await sendClose(service, job.ticketId, change), 200);
  },
};

test.each(Object.entries(tooLate))('no text of a quote that %s', async (_, happens) => {
  const offer = await offerAtLink(service);
  const began = service.clock.now().toISOString();
  await happens(offer);
  const asked = await ask(offer, 'approver');
  service.clock.set(began);
  expect(expectProblem(asked, 'not-allowed-now').body).toMatchObject({ detail: waits });
});

test('no text to whoever lives there, where somebody else decides and pays', async () => {
  const offer = await offerAtLink(service);
  // As long as they decide themselves, they answer.
  expectStatus(await ask(offer, 'occupant'), 201);
  await handToAnother(service, offer.job.siteId);
  expect(expectProblem(await ask(offer, 'occupant'), 'not-allowed-now').body).toMatchObject({
    detail: 'Only whoever approves or pays can answer it: send the text to one of them.',
  });
  for (const to of ['approver', 'payer'] as const) expectStatus(await ask(offer, to), 201);
});
