import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { dollarsText } from '../../src/pricing/index.ts';
import { findPluggedDrain, findWornContactor } from '../harness/findings.ts';
import {
  billSoldJob,
  cash,
  closeSoldJob,
  creditOf,
  issueInvoice,
  move,
  sendIssue,
  sendMoney,
  sendVoid,
} from '../harness/invoice.ts';
import { addSite, type Job, type QuoteAt } from '../harness/job.ts';
import { readInvoice } from '../harness/read-invoice.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';
import { acceptOnly, doAll, offer } from '../harness/whole-job.ts';
import { comeBack, finishVisit, sendClose, sendReopen } from '../harness/work.ts';

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
});
beforeEach(() => service.clock.set('2026-07-14T18:00:00Z'));
afterAll(() => service.close());

describe('money that comes in', () => {
  it('settles an invoice when all of it has come, in as many parts as it takes', async () => {
    const bill = await billSoldJob(service);
    const { totalCents } = bill.body;
    const first = await move(service, bill, 'payments', cash(1_000));
    expect(first.invoice.body).toMatchObject({
      state: 'issued',
      paidCents: 1_000,
      balanceCents: totalCents - 1_000,
    });
    const check = { method: 'check', reference: 'No. 4711', amountCents: totalCents - 1_000 };
    const second = await move(service, first.invoice, 'payments', check);
    expect(second.invoice.body).toMatchObject({ state: 'settled', balanceCents: 0 });
    expect(second.made.receiptNumber).toBe(first.made.receiptNumber + 1);
  });

  it('is never more than what is owed, and the refusal says how much that is', async () => {
    const bill = await billSoldJob(service);
    const { balanceCents } = bill.body;
    const tooMuch = await sendMoney(service, bill, 'payments', cash(balanceCents + 1));
    expect(expectProblem(tooMuch, 'above-balance').body).toMatchObject({
      balanceCents,
      detail: `${dollarsText(balanceCents + 1)} is more than the ${dollarsText(balanceCents)} that is owed.`,
    });
    expect((await readInvoice(service, bill.body.id)).tag).toBe(bill.tag);
  });

  it.each([0, -1, 1.5, 2_000_000_001])('is no amount such as %s cents', async (amountCents) => {
    const bill = await billSoldJob(service);
    const refused = await sendMoney(service, bill, 'payments', cash(amountCents));
    expectProblem(refused, 'validation-failed');
  });

  it('but cash names the check, the card’s receipt or the transfer', async () => {
    const bill = await billSoldJob(service);
    for (const method of ['check', 'card', 'bank_transfer']) {
      const refused = await sendMoney(service, bill, 'payments', { method, amountCents: 100 });
      expectProblem(refused, 'validation-failed');
      expect(refused.body.errors).toMatchObject([{ pointer: '/reference' }]);
    }
  });

  it('may have come earlier than it was written down, never later', async () => {
    const bill = await billSoldJob(service);
    service.clock.set('2026-07-14T18:30:00Z');
    const later = { ...cash(100), receivedAt: '2026-07-14T18:32:01Z' };
    const refused = await sendMoney(service, bill, 'payments', later);
    expect(expectProblem(refused, 'validation-failed').body.errors).toMatchObject([
      { pointer: '/receivedAt', code: 'in_the_future' },
    ]);
    const earlier = { ...cash(100), receivedAt: '2026-07-14T18:10:00Z', paidByName: 'Ott Elm' };
    const { made } = await move(service, bill, 'payments', earlier);
    expect(made).toMatchObject({ receivedAt: '2026-07-14T18:10:00.000Z', paidByName: 'Ott Elm' });
  });

  it('came now where the phone’s clock is a little fast', async () => {
    const bill = await billSoldJob(service);
    const fast = { ...cash(100), receivedAt: '2026-07-14T18:00:03Z' };
    const { made } = await move(service, bill, 'payments', fast);
    expect(made.receivedAt).toBe('2026-07-14T18:00:00.000Z');
  });

  it('did not come before the ticket was opened', async () => {
    const bill = await billSoldJob(service);
    const early = { ...cash(100), receivedAt: '2026-07-14T17:59:59Z' };
    const refused = await sendMoney(service, bill, 'payments', early);
    expect(expectProblem(refused, 'validation-failed').body.errors).toMatchObject([
      {
        pointer: '/receivedAt',
        code: 'too_early',
        message: 'is before the ticket was opened, at 2026-07-14T18:00:00.000Z',
      },
    ]);
  });

  it('of more than two days ago is the owner’s alone to write down', async () => {
    const bill = await billSoldJob(service);
    const path = `/v1/invoices/${bill.body.id}/payments`;
    const pay = (who: 'technician' | 'dispatcher' | 'owner', receivedAt: string, tag: string) =>
      service.as(who).post(path, { ...cash(100), receivedAt }, { ifMatch: tag });
    // The company's third day after it begins at five o'clock by Greenwich.
    service.clock.set('2026-07-17T05:00:00Z');
    const old = '2026-07-14T23:59:59Z';
    for (const who of ['technician', 'dispatcher'] as const) {
      expect(expectProblem(await pay(who, old, bill.tag), 'forbidden').body).toMatchObject({
        detail: 'Money of more than two days ago is the owner’s to write down.',
        allowedRoles: ['owner'],
      });
    }
    service.clock.set('2026-07-17T04:59:59Z');
    expectStatus(await pay('dispatcher', '2026-07-14T18:00:00Z', bill.tag), 201);
    service.clock.set('2026-07-17T05:00:00Z');
    const { tag } = await readInvoice(service, bill.body.id);
    expectStatus(await pay('owner', old, tag), 201);
  });

  it('is not taken for a draft', async () => {
    const { draft } = await closeSoldJob(service);
    const refused = await sendMoney(service, draft, 'payments', cash(100));
    expect(expectProblem(refused, 'not-allowed-now').body).toMatchObject({
      currentState: 'draft',
      allowedActions: ['issue'],
    });
  });

  it('has a receipt that says what was owed then, whatever happens later', async () => {
    const bill = await billSoldJob(service);
    const { totalCents, number } = bill.body;
    const { made, invoice } = await move(service, bill, 'payments', cash(1_000));
    const next = await move(service, invoice, 'payments', cash(500));
    service.clock.advance(1_000);
    expectStatus(await sendVoid(service, next.invoice, made.id), 200);
    const receipt = (id: string) => service.as('technician').get(`/v1/payments/${id}`);
    expect(expectStatus(await receipt(made.id), 200).body).toMatchObject({
      invoiceNumber: number,
      invoiceTotalCents: totalCents,
      amountCents: 1_000,
      balanceAfterCents: totalCents - 1_000,
      voided: { reason: 'The check came back.' },
    });
    expect(expectStatus(await receipt(next.made.id), 200).body).toMatchObject({
      balanceAfterCents: totalCents - 1_500,
      voided: null,
    });
  });
});

describe('a payment that never was one', () => {
  it('is voided once, and what it paid is owed again', async () => {
    const bill = await billSoldJob(service);
    const { totalCents } = bill.body;
    const { made, invoice } = await move(service, bill, 'payments', cash(totalCents));
    expect(invoice.body.state).toBe('settled');
    expectStatus(await sendVoid(service, invoice, made.id), 200);
    const open = await readInvoice(service, bill.body.id);
    expect(open.body).toMatchObject({ state: 'issued', paidCents: 0, balanceCents: totalCents });
    expectProblem(await sendVoid(service, open, made.id), 'already-exists');
  });

  it('stays when money was given back that it covers', async () => {
    const { paid, invoice } = await overpaid(2_000);
    const refunded = await move(service, invoice, 'refunds', cash(2_000));
    expectProblem(await sendVoid(service, refunded.invoice, paid), 'not-allowed-now');
  });

  it('is not for whoever means another state of the invoice', async () => {
    const bill = await billSoldJob(service);
    const { made } = await move(service, bill, 'payments', cash(100));
    expectProblem(await sendVoid(service, bill, made.id), 'version-changed');
  });
});

describe('money that is given back', () => {
  it('is only what was overpaid, and settles the invoice', async () => {
    const { invoice, overpaidCents } = await overpaid(2_000);
    expect(invoice.body).toMatchObject({ state: 'issued', balanceCents: -overpaidCents });
    const tooMuch = await sendMoney(service, invoice, 'refunds', cash(overpaidCents + 1));
    expect(expectProblem(tooMuch, 'above-balance').body.balanceCents).toBe(-overpaidCents);
    const part = await move(service, invoice, 'refunds', cash(500));
    expect(part.invoice.body).toMatchObject({ state: 'issued', refundedCents: 500 });
    const rest = await move(service, part.invoice, 'refunds', cash(overpaidCents - 500));
    expect(rest.invoice.body).toMatchObject({ state: 'settled', balanceCents: 0 });
  });

  it('did not go back before any came in', async () => {
    const { invoice } = await overpaid(2_000);
    service.clock.advance(60_000);
    const early = { ...cash(100), paidAt: '2026-07-14T17:59:59Z' };
    const refused = await sendMoney(service, invoice, 'refunds', early);
    expect(expectProblem(refused, 'validation-failed').body.errors).toMatchObject([
      { pointer: '/paidAt', message: expect.stringContaining('before the first payment came in') },
    ]);
    const then = { ...cash(100), paidAt: '2026-07-14T18:00:00Z' };
    await move(service, invoice, 'refunds', then);
  });

  it('is nothing while something is owed', async () => {
    const bill = await billSoldJob(service);
    expectProblem(await sendMoney(service, bill, 'refunds', cash(1)), 'above-balance');
  });
});

describe('a credit memo', () => {
  // The part is the only thing taxed here: 55.20 at 8.25 percent is 4.554, 4.55 half up.
  it('gives the tax back that is no longer owed', async () => {
    const bill = await billSoldJob(service);
    expect(bill.body.taxCents).toBe(455);
    const { made, invoice } = await move(
      service,
      bill,
      'credit-memos',
      creditOf(bill, 'part', 520),
    );
    // Left are 50.00, on which 4.125 is owed, 4.13 half up: 0.42 less than before.
    expect(made).toMatchObject({ taxCents: 42, totalCents: 562, kind: 'correction' });
    expect(made.lines).toMatchObject([
      { class: 'part', amountCents: 520 },
      { class: 'tax', key: 'tax', amountCents: 42 },
    ]);
    expect(invoice.body.creditedCents).toBe(562);
    const rest = await move(service, invoice, 'credit-memos', creditOf(bill, 'part', 5_000));
    expect(rest.made).toMatchObject({ taxCents: 413, number: made.number + 1 });
  });

  // The numbers of the case above: 55.20 less 5.20, and 4.55 less 0.42.
  it('says on its paper what a charge that is given back in part comes to now, and so its tax', async () => {
    const bill = await billSoldJob(service);
    const some = await move(service, bill, 'credit-memos', creditOf(bill, 'part', 520));
    expect(await paperOfMemo(some.made.id)).toMatchObject({
      prices: {
        lines: [{ description: expect.stringMatching(/ \(now \$50\.00 instead of \$55\.20\)$/) }],
      },
      taxes: [{ label: expect.stringMatching(/ \(now \$4\.13 instead of \$4\.55\)$/) }],
    });
    expect(await paperOfMemo(some.made.id, 'es')).toMatchObject({
      prices: {
        lines: [
          { description: expect.stringMatching(/ \(ahora \$50\.00 en lugar de \$55\.20\)$/) },
        ],
      },
      taxes: [{ label: expect.stringMatching(/ \(ahora \$4\.13 en lugar de \$4\.55\)$/) }],
    });
    // Where all that is left of it goes back, there is nothing more to say.
    const rest = await move(service, some.invoice, 'credit-memos', creditOf(bill, 'part', 5_000));
    expect(JSON.stringify(await paperOfMemo(rest.made.id))).not.toContain('instead of');
  });

  it('never gives back more of a line than it was charged after its discounts', async () => {
    const bill = await billSoldJob(service);
    const all = await move(service, bill, 'credit-memos', creditOf(bill, 'part', 5_520));
    for (const [invoice, amountCents] of [
      [bill, 5_521],
      [all.invoice, 1],
    ] as const) {
      const now = { ...invoice, tag: (await readInvoice(service, bill.body.id)).tag };
      const more = await sendMoney(
        service,
        now,
        'credit-memos',
        creditOf(bill, 'part', amountCents),
      );
      expect(expectProblem(more, 'above-balance').body.errors).toMatchObject([
        {
          pointer: '/lines/0/amountCents',
          message: `${dollarsText(amountCents)} is more than the $0.00 left of this charge.`,
        },
      ]);
    }
  });

  it('names lines and documents that the invoice has', async () => {
    const bill = await billSoldJob(service);
    const [document] = bill.body.documents;
    const line = { document: 1, key: document.lines[0].key, amountCents: 1 };
    const memo = { kind: 'goodwill', reason: 'We were late.' };
    for (const [change, pointer] of [
      [{ document: 2 }, '/lines/0/document'],
      [{ key: 'part:nothing' }, '/lines/0/key'],
    ] as const) {
      const lines = [{ ...line, ...change }];
      const refused = await sendMoney(service, bill, 'credit-memos', { ...memo, lines });
      expect(expectProblem(refused, 'unknown-reference').body.errors).toMatchObject([{ pointer }]);
    }
  });

  it('names a charge, once: neither its tax nor its discount, which follow by themselves', async () => {
    const bill = await billSoldJob(service);
    const [document] = bill.body.documents;
    const lines: { key: string; kind: string }[] = document.lines;
    const keyOf = (kind: string) => lines.find((line) => line.kind === kind)?.key ?? kind;
    const memo = { kind: 'goodwill', reason: 'We were late.' };
    for (const kind of ['tax', 'credit']) {
      const credit = { document: 1, key: keyOf(kind), amountCents: 1 };
      const refused = await sendMoney(service, bill, 'credit-memos', { ...memo, lines: [credit] });
      expect(expectProblem(refused, 'unknown-reference').body.errors).toMatchObject([
        { pointer: '/lines/0/key', message: 'The document has no such charge.' },
      ]);
    }
    const part = { document: 1, key: keyOf('part'), amountCents: 1 };
    const twice = { ...memo, lines: [part, { ...part, amountCents: 2 }] };
    const refused = await sendMoney(service, bill, 'credit-memos', twice);
    expect(expectProblem(refused, 'validation-failed').body.errors).toMatchObject([
      { pointer: '/lines/1/key', message: 'names a charge that is credited above' },
    ]);
  });

  it('is read by its own address, with a hash of everything it says', async () => {
    const bill = await billSoldJob(service);
    const { made } = await move(service, bill, 'credit-memos', creditOf(bill, 'part', 100));
    const read = await service.as('technician').get(`/v1/credit-memos/${made.id}`);
    const { invoiceEtag: _, balanceCents: __, ...memo } = made;
    expect(expectStatus(read, 200).body).toEqual(memo);
    const { rows } = await service.owner.query(
      `SELECT paper ->> 'invoiceNumber' AS number FROM credit_memo WHERE content_hash = $1`,
      [made.contentHash],
    );
    expect(rows).toEqual([{ number: String(bill.body.number) }]);
  });
});

describe('a repair that did not cure', () => {
  it('is credited toward the right one, by itself, and never beyond what that one comes to', async () => {
    const wrong = await closeSoldJob(service);
    const bill = await issueInvoice(service, wrong.draft);
    const { invoice, right } = await mendAgain(wrong, 'contactor');
    const rightCents = right.body.acceptance.totalCents;
    const wrongCents = soldFor(bill);
    expect(rightCents).toBeGreaterThan(wrongCents);
    // Everything of the capacitor comes back; the fee of the trip and its credit stay.
    expect(invoice.body.creditedCents).toBe(wrongCents);
    expect(invoice.body.creditMemos).toMatchObject([{ kind: 'did_not_cure' }]);
  });

  it('is cut to what the right one comes to', async () => {
    const wrong = await closeSoldJob(service);
    await issueInvoice(service, wrong.draft);
    const { invoice, right } = await mendAgain(wrong, 'drain');
    const rightCents = right.body.acceptance.totalCents;
    expect(invoice.body.creditedCents).toBe(rightCents);
  });

  it('is credited once, and not at all when nothing else was sold', async () => {
    const wrong = await closeSoldJob(service);
    await issueInvoice(service, wrong.draft);
    const { invoice } = await mendAgain(wrong, 'nothing');
    expect(invoice.body).toMatchObject({ creditedCents: 0, creditMemos: [] });
  });
});

describe('every act on money', () => {
  it('says what it leaves of the invoice, so that the next one needs no look in between', async () => {
    const bill = await billSoldJob(service);
    const { id, totalCents } = bill.body;
    let tag = bill.tag;
    let owedCents: number = totalCents;
    const act = async (path: string, body: object, movesCents: (made: Made) => number) => {
      const answer = await service.as('owner').post(path, body, { ifMatch: tag });
      expect([200, 201], answer.text).toContain(answer.status);
      const made: Made = answer.body;
      owedCents += movesCents(made);
      expect(made.balanceCents).toBe(owedCents);
      tag = made.invoiceEtag;
      const now = await readInvoice(service, id);
      expect({ tag: now.tag, cents: now.body.balanceCents }).toEqual({ tag, cents: owedCents });
      return answer;
    };
    const to = (verb: string) => `/v1/invoices/${id}/${verb}`;
    const paid = await act(to('payments'), cash(1_000), () => -1_000);
    await act(to('payments'), cash(500), () => -500);
    const credit = creditOf(bill, 'labor', 500);
    await act(to('credit-memos'), credit, (made) => -(made.totalCents ?? 0));
    const receipt = expectStatus(
      await service.as('owner').get(`/v1/payments/${paid.body.id}`),
      200,
    );
    expect(receipt.body.invoiceEtag).toBe(tag);
    const reason = { reason: 'The check came back.' };
    await act(`/v1/payments/${paid.body.id}/void`, reason, () => 1_000);
    await act(to('payments'), cash(owedCents), () => -owedCents);
    await act(to('credit-memos'), credit, (made) => -(made.totalCents ?? 0));
    const refund = await act(to('refunds'), cash(200), () => 200);
    const location = refund.headers['location'] ?? '';
    expect(location).toBe(`/v1/refunds/${refund.body.id}`);
    const { invoiceEtag: _, balanceCents: __, ...given } = refund.body;
    expect(expectStatus(await service.as('technician').get(location), 200).body).toEqual(given);
    expectProblem(await service.as('second_technician').get(location), 'not-found');
  });

  interface Made {
    invoiceEtag: string;
    balanceCents: number;
    totalCents?: number;
  }
});

describe('an issued invoice whose record is gone', () => {
  it('is an accident that is told, never quietly a draft again', async () => {
    const { draft } = await closeSoldJob(service);
    const owner = await service.owner.connect();
    try {
      await owner.query('SET session_replication_role = replica');
      await owner.query("UPDATE invoice_state SET state = 'issued' WHERE invoice_id = $1", [
        draft.body.id,
      ]);
    } finally {
      await owner.query('SET session_replication_role = DEFAULT');
      owner.release();
    }
    expectStatus(await service.as('owner').get(`/v1/invoices/${draft.body.id}`), 500);
  });
});

describe('who may', () => {
  it('a technician sees and acts on invoices of own tickets; others are not there', async () => {
    const bill = await billSoldJob(service);
    const { made, invoice } = await move(service, bill, 'payments', cash(100));
    const memo = await move(service, invoice, 'credit-memos', creditOf(bill, 'part', 100));
    const { draft } = await closeSoldJob(service);
    const other = service.as('second_technician');
    for (const path of [
      `/v1/invoices/${bill.body.id}`,
      `/v1/payments/${made.id}`,
      `/v1/credit-memos/${memo.made.id}`,
    ]) {
      expectStatus(await service.as('technician').get(path), 200);
      expectProblem(await other.get(path), 'not-found');
    }
    const { tag } = memo.invoice;
    const payment = await other.post(`/v1/invoices/${bill.body.id}/payments`, cash(1), {
      ifMatch: tag,
    });
    expectProblem(payment, 'not-found');
    const issue = await other.post(
      `/v1/invoices/${draft.body.id}/issue`,
      {},
      { ifMatch: draft.tag },
    );
    expectProblem(issue, 'not-found');
    expect((await other.get('/v1/invoices')).body.items).toEqual([]);
    expect((await service.as('technician').get('/v1/invoices')).body.items).not.toEqual([]);
  });

  it.each(['refunds', 'credit-memos'] as const)('%s are the owner’s alone', async (verb) => {
    const bill = await billSoldJob(service);
    const body = verb === 'refunds' ? cash(1) : creditOf(bill, 'part', 1);
    for (const who of ['technician', 'dispatcher'] as const) {
      const path = `/v1/invoices/${bill.body.id}/${verb}`;
      expectProblem(await service.as(who).post(path, body, { ifMatch: bill.tag }), 'forbidden');
    }
  });
});

describe('numbers without a gap', () => {
  it('hold after refusals, after what was rolled back, and with twenty issues at once', async () => {
    const drafts: QuoteAt[] = [];
    for (let each = 0; each < 20; each += 1) {
      drafts.push((await closeSoldJob(service)).draft);
    }
    const [first, ...rest] = drafts;
    if (first === undefined) throw new Error('there is a first draft');
    const issued = await issueInvoice(service, first);
    expectProblem(await sendIssue(service, issued), 'not-allowed-now');
    await issueAndRollBack();
    const answers = await Promise.all(rest.map((draft) => sendIssue(service, draft)));
    for (const answer of answers) expectStatus(answer, 200);
    const { rows } = await service.owner.query<{ number: number }>(
      'SELECT number FROM invoice_issue ORDER BY number',
    );
    expect(rows.map(({ number }) => number)).toEqual(rows.map((_, at) => at + 1));
    expect(rows.length).toBeGreaterThan(20);
  }, 120_000);
});

describe('a list of invoices', () => {
  it('is read page by page, filtered by ticket, payer and state', async () => {
    const elsewhere = await addSite(service);
    const first = await closeSoldJob(service, elsewhere);
    const second = await closeSoldJob(service, elsewhere);
    const bill = await issueInvoice(service, first.draft);
    const list = (query: string) =>
      service.as('dispatcher').get(`/v1/invoices?payerId=${elsewhere.customerId}&${query}`);
    const page = expectStatus(await list('limit=1'), 200).body;
    expect(page.items).toMatchObject([
      { id: bill.body.id, number: bill.body.number, balanceCents: bill.body.totalCents },
    ]);
    const next = expectStatus(await list(`limit=1&cursor=${page.nextCursor}`), 200).body;
    expect(next).toMatchObject({ items: [{ id: second.draft.body.id, number: null }] });
    expect(next.nextCursor).toBeNull();
    const drafts = expectStatus(await list('state=draft'), 200).body.items;
    expect(drafts).toMatchObject([{ id: second.draft.body.id, totalCents: null }]);
    const newest = expectStatus(await list('order=newest'), 200).body.items;
    expect(newest.map(({ id }: { id: string }) => id)).toEqual([
      second.draft.body.id,
      bill.body.id,
    ]);
    const elsewhereCursor = `/v1/invoices?limit=1&cursor=${page.nextCursor}`;
    expectProblem(await service.as('dispatcher').get(elsewhereCursor), 'cursor-invalid');
  });
});

/** An invoice that was paid whole and then credited, so that some of it is owed back. */
async function overpaid(creditCents: number) {
  const bill = await billSoldJob(service);
  const { made, invoice } = await move(service, bill, 'payments', cash(bill.body.totalCents));
  const memo = creditOf(bill, 'labor', creditCents);
  const credited = await move(service, invoice, 'credit-memos', memo);
  return {
    paid: made.id as string,
    invoice: credited.invoice,
    overpaidCents: credited.made.totalCents as number,
  };
}

/** The same trouble again: the capacitor was not it, and the invoice of it afterwards. */
async function mendAgain(
  wrong: Job & { quote: QuoteAt; draft: QuoteAt },
  what: 'contactor' | 'drain' | 'nothing',
) {
  service.clock.advance(86_400_000);
  expectStatus(await sendReopen(service, wrong.ticketId), 200);
  const again = await comeBack(service, wrong, 'callback');
  const found = {
    contactor: () => findWornContactor(service, again),
    drain: () => findPluggedDrain(service, again),
    nothing: undefined,
  }[what];
  let right = wrong.quote;
  if (found !== undefined) {
    right = await acceptOnly(service, await offer(service, again, [await found()]));
    await doAll(service, again, right);
  }
  await finishVisit(service, again.visitId);
  const [line] = wrong.quote.body.options[0].lines.filter(
    ({ kind }: { kind: string }) => kind === 'part',
  );
  const said = { noReadingsWhy: 'This is about the money.', didNotCure: line.findingIds };
  expectStatus(await sendClose(service, wrong.ticketId, said), 200);
  const list = `/v1/invoices?ticketId=${wrong.ticketId}&state=draft`;
  const [draft] = expectStatus(await service.as('owner').get(list), 200).body.items;
  await issueInvoice(service, await readInvoice(service, draft.id));
  return { invoice: await readInvoice(service, wrong.draft.body.id), right };
}

/** What everything but the trip came to, tax included. */
function soldFor({ body }: QuoteAt): number {
  const [document] = body.documents;
  return document.lines
    .filter((line: { class: string }) => line.class !== 'visit_fee')
    .reduce((sum: number, line: { amountCents: number }) => sum + line.amountCents, 0);
}

/** An issue that gets its number and is then undone by what comes after it. */
async function issueAndRollBack(): Promise<void> {
  const { draft } = await closeSoldJob(service);
  await service.owner.query(`
    CREATE FUNCTION fail_once() RETURNS trigger LANGUAGE plpgsql AS $$
      BEGIN RAISE EXCEPTION 'the power went'; END $$;
    CREATE CONSTRAINT TRIGGER fail_once AFTER INSERT ON invoice_issue
      DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION fail_once()`);
  const failed = await sendIssue(service, draft);
  await service.owner.query('DROP TRIGGER fail_once ON invoice_issue; DROP FUNCTION fail_once()');
  expectStatus(failed, 500);
  expect((await readInvoice(service, draft.body.id)).body.state).toBe('draft');
}

/** What a memo's paper says of the only document that it credits. */
async function paperOfMemo(id: string, language: 'en' | 'es' = 'en'): Promise<unknown> {
  const { paper } = await service.db.prisma.creditMemo.findUniqueOrThrow({ where: { id } });
  const told = JSON.parse(JSON.stringify(paper));
  return (language === 'es' ? told.inSpanish : told).documents[0];
}
