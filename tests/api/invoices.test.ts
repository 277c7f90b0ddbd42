import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { taxRule } from '../../seed/company.ts';
import { consumerRules } from '../../seed/consumer-rules.ts';
import { canonicalJson } from '../../src/platform/canonical-json.ts';
import { sha256 } from '../../src/platform/sha256.ts';
import { offerChange } from '../harness/change-order.ts';
import { findPluggedDrain, findWornContactor } from '../harness/findings.ts';
import { cash, closeSoldJob, issueInvoice, move, sendIssue } from '../harness/invoice.ts';
import { addSite, arriveAtJob, findCapacitor, type Job, type QuoteAt } from '../harness/job.ts';
import { readInvoice } from '../harness/read-invoice.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';
import { acceptOnly, closeTicket, declineAll, doAll, offer } from '../harness/whole-job.ts';
import {
  comeBack,
  finishVisit,
  fitCapacitor,
  sendClose,
  sendOutcome,
  sendReopen,
} from '../harness/work.ts';

const NOON = '2026-07-14T18:00:00Z';

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
  for (const rule of [feeTaxed, lumpSum]) {
    expectStatus(await service.as('owner').post('/v1/tax-rules', rule), 201);
  }
  const cancelRight = { ...consumerRules[0], jurisdiction: 'cancel_county' };
  expectStatus(await service.as('owner').post('/v1/consumer-rules', cancelRight), 201);
  const rule = { ...taxRule, jurisdiction: 'cancel_county' };
  expectStatus(await service.as('owner').post('/v1/tax-rules', rule), 201);
});
beforeEach(() => service.clock.set(NOON));
afterAll(() => service.close());

/** A tenth on everything, the fee included. */
const feeTaxed = {
  ...taxRule,
  jurisdiction: 'fee_county',
  rate: '0.1',
  taxableClasses: ['visit_fee', 'part', 'material', 'equipment', 'labor', 'access'],
};
const lumpSum = { ...taxRule, jurisdiction: 'lump_county', mode: 'lump_sum' };

describe('the bill', () => {
  it('is line for line what was accepted, with its tax and its total', async () => {
    const { quote, draft } = await closeSoldJob(service);
    const invoice = await issueInvoice(service, draft);
    const [option] = quote.body.options;
    const [document, ...more] = invoice.body.documents;
    expect(more).toEqual([]);
    expect(document).toMatchObject({ kind: 'accepted', quoteId: quote.body.id, visitId: null });
    expect(document.lines).toEqual(option.lines.map(asBilled));
    expect(document.totalCents).toBe(quote.body.acceptance.totalCents);
    expect(invoice.body).toMatchObject({
      taxCents: option.taxCents,
      totalCents: option.totalCents,
      balanceCents: option.totalCents,
      state: 'issued',
    });
  });

  it('shows before its issue what it will bill, and afterwards what it billed', async () => {
    const { draft } = await closeSoldJob(service);
    expect(draft.body).toMatchObject({ number: null, state: 'draft', allowedActions: ['issue'] });
    const invoice = await issueInvoice(service, draft);
    expect(invoice.body.documents).toEqual(draft.body.documents);
    expect(invoice.body.number).toBeGreaterThan(0);
  });

  it('adds a change order as it was accepted, after the quote it changes', async () => {
    const job = await arriveAtJob(service);
    const root = await acceptOnly(
      service,
      await offer(service, job, [await findPluggedDrain(service, job)]),
    );
    await doAll(service, job, root);
    const found = [await findCapacitor(service, job)];
    const change = await acceptOnly(service, await offerChange(service, job, root, found));
    await doAll(service, job, change);
    const invoice = await issueInvoice(service, await closeTicket(service, job));
    expect(billed(invoice)).toEqual([
      ['accepted', root.body.id, root.body.acceptance.totalCents],
      ['accepted', change.body.id, change.body.acceptance.totalCents],
    ]);
  });

  it('takes off what was not done, with its part and its tax, and nothing else', async () => {
    const job = await arriveAtJob(service, await addSite(service, { jurisdiction: 'fee_county' }));
    const [capacitor, contactor] = [
      await findCapacitor(service, job),
      await findWornContactor(service, job),
    ];
    const quote = await acceptOnly(service, await offer(service, job, [capacitor, contactor]));
    const quoteId = quote.body.id;
    await fitCapacitor(service, job.visitId, { quoteId, findingId: capacitor });
    await leaveUndone(job, quoteId, contactor);
    const invoice = await issueInvoice(service, await closeTicket(service, job));
    const [accepted, undone] = invoice.body.documents;
    expect(accepted.lines).toEqual(quote.body.options[0].lines.map(asBilled));
    const soldFor = netOf(quote.body.options[0].lines, contactor);
    expect(undone.totalCents - undone.taxCents).toBe(-soldFor);
    expect(undone).toMatchObject({ kind: 'work_not_done', quoteId });
    const whole = accepted.totalCents - accepted.taxCents;
    // A tenth on everything that stays, rounded half up, in place of a tenth on everything.
    const taxLeft = Math.floor((whole - soldFor + 5) / 10);
    expect(accepted.taxCents + undone.taxCents).toBe(taxLeft);
    expect(invoice.body.totalCents).toBe(whole - soldFor + taxLeft);
  });

  it('of an accepted quote of which nothing was done is the fee alone', async () => {
    const job = await arriveAtJob(service);
    const findingId = await findCapacitor(service, job);
    const quote = await acceptOnly(service, await offer(service, job, [findingId]));
    await leaveUndone(job, quote.body.id, findingId);
    const draft = await closeTicket(service, job);
    expect(draft.body.documents).toMatchObject([
      { kind: 'visit_fee', visitId: job.visitId, totalCents: quote.body.declineTotalCents },
    ]);
    await issueInvoice(service, draft);
  });
});

describe('the fee of a trip', () => {
  it('after a no is what the paper told of saying no, tax included', async () => {
    const job = await arriveAtJob(service, await addSite(service, { jurisdiction: 'fee_county' }));
    const quote = await offer(service, job, [await findCapacitor(service, job)]);
    await declineAll(service, quote);
    const invoice = await issueInvoice(service, await closeTicket(service, job));
    expect(quote.body.declineTotalCents).toBe(9_790);
    expect(invoice.body).toMatchObject({ totalCents: 9_790, taxCents: 890 });
    expect(invoice.body.documents).toMatchObject([
      { kind: 'visit_fee', visitId: job.visitId, quoteId: null },
    ]);
  });

  it('without any quote is what was told at the call, tax included', async () => {
    const job = await arriveAtJob(service, await addSite(service, { jurisdiction: 'fee_county' }));
    const invoice = await issueInvoice(service, await closeTicket(service, job));
    expect(invoice.body).toMatchObject({ totalCents: 9_790, taxCents: 890 });
  });

  it('keeps the discount that the caller was told under an agreement', async () => {
    const site = await addSite(service, { jurisdiction: 'fee_county' });
    const agreement = {
      planCode: 'two_visits',
      startsOn: '2026-01-01',
      endsOn: '2040-01-01',
      agreedByName: 'Winifred Ashgrove',
    };
    const added = await service
      .as('dispatcher')
      .post(`/v1/sites/${site.siteId}/agreements`, agreement);
    expectStatus(added, 201);
    const at = { windowStart: '2031-03-03T18:00:00Z', windowEnd: '2031-03-03T20:00:00Z' };
    const told = await service
      .as('dispatcher')
      .get(`/v1/visit-fee?windowStart=${at.windowStart}&siteId=${site.siteId}`);
    const { feeAfterDiscountCents } = expectStatus(told, 200).body.agreement;
    expect(feeAfterDiscountCents).toBeLessThan(8_900);
    const booked = await service.as('dispatcher').post('/v1/tickets', {
      siteId: site.siteId,
      complaint: 'It blows warm air.',
      symptoms: ['no_cooling'],
    });
    const visit = await service.as('dispatcher').post('/v1/visits', {
      ticketId: expectStatus(booked, 201).body.id,
      technicianId: service.staff.technician.id,
      ...at,
      feeDisclosure: {
        toldFeeCents: 8_900,
        toldFeeAfterDiscountCents: feeAfterDiscountCents,
        agreedBy: 'Winifred Ashgrove',
      },
    });
    const { id: visitId } = expectStatus(visit, 201).body;
    const visitTag = await arrive(visitId, visit.headers['etag'] ?? '');
    const draft = await closeTicket(service, {
      ...site,
      ticketId: booked.body.id,
      visitId,
      visitTag,
    });
    expect(draft.body.totalCents - draft.body.taxCents).toBe(feeAfterDiscountCents);
    await issueInvoice(service, draft);
  });

  it('is none for coming back with the part', async () => {
    const job = await arriveAtJob(service);
    const quote = await acceptOnly(
      service,
      await offer(service, job, [await findCapacitor(service, job)]),
    );
    await finishVisit(service, job.visitId, 'waiting_for_part');
    const back = await comeBack(service, job, 'return');
    await doAll(service, back, quote);
    const invoice = await issueInvoice(service, await closeTicket(service, back));
    expect(billed(invoice)).toEqual([
      ['accepted', quote.body.id, quote.body.acceptance.totalCents],
    ]);
  });

  it('is none for a callback, whose bill may come to nothing and is settled then', async () => {
    const first = await closeSoldJob(service);
    await issueInvoice(service, first.draft);
    const again = await callBack(first);
    const invoice = await issueInvoice(service, await closeTicket(service, again));
    expect(invoice.body).toMatchObject({ documents: [], totalCents: 0, state: 'settled' });
  });
});

describe('a yes that was taken back in time', () => {
  it('is billed the fee only', async () => {
    const { job, quote } = await soldWhereOneMayCancel();
    await cancel(quote);
    const invoice = await issueInvoice(service, await closeTicket(service, job));
    expect(invoice.body.documents).toMatchObject([
      { kind: 'visit_fee', totalCents: quote.body.declineTotalCents },
    ]);
  });

  it('also after the closing: who meant to issue the old bill is told, and bills the fee', async () => {
    const { job, quote } = await soldWhereOneMayCancel();
    await doAll(service, job, quote);
    const draft = await closeTicket(service, job);
    expect(draft.body.documents).toMatchObject([{ kind: 'accepted' }]);
    await cancel(quote);
    expectProblem(await sendIssue(service, draft), 'version-changed');
    const seen = await readInvoice(service, draft.body.id);
    const invoice = await issueInvoice(service, seen);
    expect(invoice.body.documents).toMatchObject([{ kind: 'visit_fee' }]);
  });
});

describe('a yes that was taken back after it was billed', () => {
  it('is credited at once, with its change order, down to what a no comes to', async () => {
    const site = await addSite(service, { jurisdiction: 'cancel_county' });
    const job = await arriveAtJob(service, site);
    const found = [await findCapacitor(service, job)];
    const quote = await acceptOnly(service, await offer(service, job, found));
    await doAll(service, job, quote);
    const contactor = [await findWornContactor(service, job)];
    const change = await acceptOnly(service, await offerChange(service, job, quote, contactor));
    await doAll(service, job, change);
    const invoice = await issueInvoice(service, await closeTicket(service, job));
    const paid = await move(service, invoice, 'payments', cash(invoice.body.totalCents));
    await cancel(quote);
    const after = await readInvoice(service, invoice.body.id);
    const [memo, ...more] = after.body.creditMemos;
    expect(more).toEqual([]);
    expect(memo).toMatchObject({ kind: 'yes_cancelled', issuedById: expect.any(String) });
    expect(after.body.totalCents - memo.totalCents).toBe(quote.body.declineTotalCents);
    // It was paid, so it is owed back.
    expect(after.body.balanceCents).toBe(-memo.totalCents);
    expect(paid.invoice.body.state).toBe('settled');
    expect(after.body.state).toBe('issued');
  });

  it('has its change order taken back too, which is not credited a second time', async () => {
    const { job, quote } = await soldWhereOneMayCancel();
    const contactor = [await findWornContactor(service, job)];
    const change = await acceptOnly(service, await offerChange(service, job, quote, contactor));
    await cancel(quote);
    const seen = await service.as('dispatcher').get(`/v1/quotes/${change.body.id}`);
    expect(seen.body.acceptance.cancellation).toMatchObject({
      cancelledByName: 'Winifred Ashgrove',
    });
    await closeTicket(service, job);
    const [draft] = await draftsOf(job.ticketId);
    expect(draft?.body.documents).toMatchObject([
      { kind: 'visit_fee', totalCents: quote.body.declineTotalCents },
    ]);
  });
});

describe('a ticket that is closed twice', () => {
  it.each([
    ['issued before it was reopened', true],
    ['still a draft when it was closed again', false],
  ])('bills nothing twice, the first invoice %s', async (_, isIssuedFirst) => {
    const first = await closeSoldJob(service);
    if (isIssuedFirst) await issueInvoice(service, first.draft);
    const again = await callBack(first);
    const found = [await findWornContactor(service, again)];
    const quote = await acceptOnly(service, await offer(service, again, found));
    await doAll(service, again, quote);
    await finishVisit(service, again.visitId);
    const why = { noReadingsWhy: 'The money is what this is about.' };
    expectStatus(await sendClose(service, again.ticketId, why), 200);
    const drafts = await draftsOf(again.ticketId);
    for (const draft of drafts) await issueInvoice(service, draft);
    expect(await everythingBilled(again.ticketId)).toEqual([
      { number: 1, kind: 'accepted', quote: first.quote.body.id },
      { number: 2, kind: 'accepted', quote: quote.body.id },
    ]);
  });

  it('is not issued twice either', async () => {
    const { draft } = await closeSoldJob(service);
    const invoice = await issueInvoice(service, draft);
    expectProblem(await sendIssue(service, draft), 'version-changed');
    const again = expectProblem(await sendIssue(service, invoice), 'not-allowed-now');
    expect(again.body).toMatchObject({
      currentState: 'issued',
      allowedActions: ['pay', 'void_payment', 'refund', 'credit'],
    });
  });
});

describe('the paper of an invoice', () => {
  it('is frozen with a hash of everything it says', async () => {
    const { draft, ...job } = await closeSoldJob(service);
    const invoice = await issueInvoice(service, draft, { dueInDays: 10 });
    const { paper, text } = await paperOf(invoice);
    expect(sha256(text)).toBe(invoice.body.contentHash);
    expect(text).toBe(canonicalJson(paper));
    expect(paper).toMatchObject({
      kind: 'invoice',
      invoiceNumber: String(invoice.body.number),
      payer: { name: 'Winifred Ashgrove' },
      site: { occupant: 'Winifred Ashgrove', address: { street: '3 Thistle Court' } },
      issuedText: 'July 14, 2026',
      dueText: 'July 24, 2026',
      visitDays: ['July 14, 2026'],
      totalCents: invoice.body.totalCents,
      documents: [{ title: `Quote ${job.quote.body.number}, as accepted` }],
    });
    expect(invoice.body.dueOn).toBe('2026-07-24');
  });

  it('separates no prices where the quote was one price for everything', async () => {
    const site = await addSite(service, { jurisdiction: 'lump_county' });
    const { draft } = await closeSoldJob(service, site);
    const invoice = await issueInvoice(service, draft);
    const { paper } = await paperOf(invoice);
    const [document] = paper.documents;
    expect(document.prices).toEqual({
      kind: 'lump_sum',
      priceCents: invoice.body.totalCents,
      lines: expect.arrayContaining([{ description: expect.any(String) }]),
    });
    expect(document.taxes).toEqual([]);
    const amounts = invoice.body.documents[0].lines
      .map((line: { amountCents: number }) => line.amountCents)
      .filter((amount: number) => amount !== 0);
    for (const amount of amounts) {
      expect(JSON.stringify(document)).not.toContain(`:${amount},`);
      expect(JSON.stringify(document)).not.toContain(`:${amount}}`);
    }
  });
});

interface Line {
  kind: string;
  key: string;
  class: string;
  description: string;
  aimedAt: string | null;
  findingIds: string[];
  amountCents: number;
}

function asBilled({ key, kind, class: of, description, aimedAt, amountCents }: Line) {
  return { key, kind, class: of, description, aimedAt, amountCents };
}

/** What the work of a finding came to before tax, with what was taken off it. */
function netOf(lines: Line[], findingId: string): number {
  const own = lines.filter(
    ({ findingIds, kind }) =>
      findingIds.length > 0 && findingIds.every((id) => id === findingId) && kind !== 'tax',
  );
  const keys = own.map(({ key }) => key);
  const aimed = lines.filter(
    ({ key, aimedAt }) => !keys.includes(key) && aimedAt !== null && keys.includes(aimedAt),
  );
  return [...own, ...aimed].reduce((sum, { amountCents }) => sum + amountCents, 0);
}

function billed({ body }: QuoteAt): [string, string, number][] {
  return body.documents.map(
    ({ kind, quoteId, totalCents }: { kind: string; quoteId: string; totalCents: number }) => [
      kind,
      quoteId,
      totalCents,
    ],
  );
}

async function leaveUndone(job: Job, quoteId: string, findingId: string): Promise<void> {
  const why = { outcome: 'not_done', reason: 'The part did not fit the bracket.' };
  expectStatus(await sendOutcome(service, job.visitId, { quoteId, findingId }, why), 201);
}

async function arrive(visitId: string, first: string): Promise<string> {
  let tag = first;
  for (const verb of ['start-travel', 'arrive']) {
    const path = `/v1/visits/${visitId}/${verb}`;
    const moved = await service.as('technician').post(path, {}, { ifMatch: tag });
    tag = expectStatus(moved, 200).headers['etag'] ?? '';
  }
  return tag;
}

async function callBack(job: Job): Promise<Job> {
  service.clock.advance(86_400_000);
  expectStatus(await sendReopen(service, job.ticketId), 200);
  return comeBack(service, job, 'callback');
}

async function soldWhereOneMayCancel() {
  const site = await addSite(service, { jurisdiction: 'cancel_county' });
  const job = await arriveAtJob(service, site);
  const found = [await findCapacitor(service, job)];
  const quote = await acceptOnly(service, await offer(service, job, found));
  return { job, quote };
}

async function cancel({ body }: QuoteAt): Promise<void> {
  const path = `/v1/quotes/${body.id}`;
  const { headers } = await service.as('dispatcher').get(path);
  const notice = { cancelledByName: 'Winifred Ashgrove', noticeText: 'I take it back.' };
  const sent = await service
    .as('dispatcher')
    .post(`${path}/cancel-acceptance`, notice, { ifMatch: headers['etag'] ?? '' });
  expectStatus(sent, 200);
}

async function draftsOf(ticketId: string): Promise<QuoteAt[]> {
  const list = await service.as('owner').get(`/v1/invoices?ticketId=${ticketId}&state=draft`);
  const drafts: QuoteAt[] = [];
  for (const { id } of expectStatus(list, 200).body.items) {
    drafts.push(await readInvoice(service, id));
  }
  return drafts;
}

async function everythingBilled(ticketId: string) {
  const { rows } = await service.owner.query(
    `SELECT dense_rank() OVER (ORDER BY s.number)::int AS number, d.kind, d.quote_id AS quote
     FROM invoice i JOIN invoice_issue s ON s.invoice_id = i.id
     JOIN invoice_document d ON d.invoice_id = i.id
     WHERE i.ticket_id = $1 ORDER BY s.number, d.position`,
    [ticketId],
  );
  return rows;
}

async function paperOf({ body }: QuoteAt) {
  const { rows } = await service.owner.query(
    'SELECT paper, paper::text AS text FROM invoice_issue WHERE invoice_id = $1',
    [body.id],
  );
  return rows[0];
}
