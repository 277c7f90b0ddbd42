import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { sealJournal, verifyJournal } from '../../src/journal/index.ts';
import { cash, closeSoldJob, issueInvoice, move } from '../harness/invoice.ts';
import { addSite, type Site } from '../harness/job.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';
import { findSigns } from './find-signs.ts';

let service: TestService;
let site: Site;
let ticketId: string;
let visitId: string;
let invoiceId: string;
let erasure: Awaited<ReturnType<typeof erase>>;
const email = 'w.ashgrove@example.com';

/** What tells who the person is, as it would be looked for. */
const signs = ['ashgrove', 'winifred', '555-0111', '5550111', email, 'thistle court'];

async function erase(reason = 'Mrs. Ashgrove asked for it by letter.') {
  const path = `/v1/customers/${site.customerId}`;
  const { headers } = await service.as('owner').get(path);
  return service.as('owner').post(`${path}/erase`, { reason }, { ifMatch: headers['etag'] ?? '' });
}

/** The mail server takes every mail that waits. */
async function sendMails(): Promise<void> {
  const step = (from: string, change: string) =>
    service.owner.query(
      `UPDATE delivery_state SET ${change}, version = version + 1 WHERE state = '${from}'`,
    );
  const lease = `next_at = NULL, lease_until = '2030-01-01T00:00:00Z'`;
  await step('waiting', `state = 'sending', attempts = attempts + 1, ${lease}`);
  await step(
    'sending',
    `state = 'sent', lease_until = NULL, sent_to = '${email}',
    handed_over_at = changed_at, answer_code = 250, message_id = '<a@example.com>'`,
  );
}

beforeAll(async () => {
  service = await createTestService();
  site = await addSite(service);
  const path = `/v1/customers/${site.customerId}`;
  const { headers } = await service.as('owner').get(path);
  const change = { email };
  expectStatus(
    await service.as('owner').patch(path, change, { ifMatch: headers['etag'] ?? '' }),
    200,
  );
});

afterAll(() => service.close());

describe('a person is not erased while something is open with them', () => {
  it('an open ticket, a bill that is not settled, a mail under way: each is named', async () => {
    const job = await closeSoldJob(service, site);
    ticketId = job.ticketId;
    visitId = job.visitId;
    const { body: ticket } = await service.as('owner').get(`/v1/tickets/${ticketId}`);
    const opened = await service.as('dispatcher').post('/v1/tickets', {
      siteId: site.siteId,
      complaint: 'Winifred Ashgrove hears a rattle.',
    });
    expectStatus(opened, 201);
    const draft = expectProblem(await erase(), 'not-allowed-now').body;
    expect(draft.currentState).toBe('still_needed');
    expect(draft.reasons).toContainEqual({
      code: 'money_open',
      number: `draft of ticket ${ticket.number}`,
    });
    const invoice = await issueInvoice(service, job.draft);
    invoiceId = invoice.body.id;
    const { body } = expectProblem(await erase(), 'not-allowed-now');
    const number = String(opened.body.number);
    expect(body.reasons).toContainEqual({ code: 'ticket_open', number });
    expect(body.reasons).toContainEqual({
      code: 'money_open',
      number: String(invoice.body.number),
    });
    expect(body.reasons.map(({ code }: { code: string }) => code)).toContain('paper_under_way');
    expect(body.detail).toContain(`open ticket ${number}`);
    const payment = { ...cash(invoice.body.balanceCents), paidByName: 'Winifred Ashgrove' };
    await move(service, invoice, 'payments', payment);
    const cancelled = await service
      .as('dispatcher')
      .post(
        `/v1/tickets/${opened.body.id}/cancel`,
        { reason: 'Mrs. Ashgrove called it off.' },
        { ifMatch: opened.headers['etag'] ?? '' },
      );
    expectStatus(cancelled, 200);
    const mails = expectProblem(await erase(), 'not-allowed-now').body.reasons;
    expect(new Set(mails.map(({ code }: { code: string }) => code))).toEqual(
      new Set(['paper_under_way']),
    );
  });

  it('and before it is done, the person is found all over', async () => {
    await sendMails();
    const found = Object.keys(await findSigns(service.owner, signs));
    expect(found).toEqual(
      expect.arrayContaining([
        'customer.name',
        'customer.phone',
        'site.street',
        'ticket.complaint',
      ]),
    );
  });

  it('nor by anybody but the owner, nor without a reason', async () => {
    const path = `/v1/customers/${site.customerId}/erase`;
    for (const who of ['dispatcher', 'technician'] as const) {
      expectProblem(await service.as(who).post(path, { reason: 'Asked.' }), 'forbidden');
    }
    expectProblem(await erase(' '), 'validation-failed');
  });
});

describe('a person who was erased', () => {
  beforeAll(async () => {
    erasure = expectStatus(await erase(), 200);
  });

  it('is found nowhere but on the papers that the law wants kept', async () => {
    expect(await findSigns(service.owner, signs)).toEqual({
      'invoice_issue.paper': 1,
      'quote_acceptance.accepted_by_name': 1,
      'quote_issue.paper': 1,
      'work_record.paper': 1,
    });
  });

  it('the owner is told what went, what stays and why', async () => {
    const { body } = erasure;
    expect(body.reason).toBe('Mrs. erased asked for it by letter.');
    const counts = (list: { code: string; count: number }[]) =>
      Object.fromEntries(list.map(({ code, count }) => [code, count]));
    expect(counts(body.erased)).toMatchObject({
      person: 1,
      addresses: 1,
      complaints: 2,
      payers: 1,
    });
    expect(counts(body.stays)).toMatchObject({ answers: 1, money: 1 });
    expect(counts(body.stays)['papers']).toBeGreaterThan(2);
  });

  it('leaves the journal whole, and its hashes mean nothing', async () => {
    await sealJournal(service.db.pool);
    expect(await verifyJournal(service.db.pool)).toMatchObject({ faults: [], unsealed: 0 });
  });

  it('and everything of the job can still be read, its money unchanged', async () => {
    const owner = service.as('owner');
    for (const path of [
      `/v1/customers/${site.customerId}`,
      `/v1/sites/${site.siteId}`,
      `/v1/tickets/${ticketId}`,
      `/v1/visits/${visitId}`,
      `/v1/papers?ticketId=${ticketId}`,
      '/v1/deliveries',
      '/v1/bookkeeping/entries.csv',
    ]) {
      expectStatus(await owner.get(path), 200);
    }
    const invoice = expectStatus(await owner.get(`/v1/invoices/${invoiceId}`), 200).body;
    expect(invoice).toMatchObject({ state: 'settled', balanceCents: 0 });
  });

  it('is neither erased again, nor changed, nor named in anything new', async () => {
    const again = expectProblem(await erase(), 'not-allowed-now');
    expect(again.body.currentState).toBe('erased');
    const path = `/v1/customers/${site.customerId}`;
    const { headers } = await service.as('owner').get(path);
    const changed = await service
      .as('owner')
      .patch(path, { name: 'Winifred Ashgrove' }, { ifMatch: headers['etag'] ?? '' });
    expectProblem(changed, 'not-allowed-now');
    const ticket = { siteId: site.siteId, complaint: 'Warm again.' };
    expectProblem(await service.as('dispatcher').post('/v1/tickets', ticket), 'unknown-reference');
  });
});
