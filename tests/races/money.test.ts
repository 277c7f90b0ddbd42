import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { billSoldJob, cash, closeSoldJob, creditOf, move } from '../harness/invoice.ts';
import type { QuoteAt } from '../harness/job.ts';
import { createTestService, expectStatus, type TestService } from '../harness/test-service.ts';

const ROUNDS = 10;
/** Of each request, so that they meet in the database and not only on the wire. */
const TIMES = 3;

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
});
afterAll(() => service.close());

type Answer = Awaited<ReturnType<ReturnType<TestService['as']>['post']>>;
interface Request {
  path: string;
  body: object;
}

describe('two who move the money of one invoice at once', () => {
  const races: {
    name: string;
    /** Makes an invoice and says what is sent for it. */
    start: () => Promise<{ invoice: QuoteAt; requests: Request[] }>;
    /** Which balances may be left, of what was billed. */
    ends: (totalCents: number) => number[];
  }[] = [
    {
      name: 'pay all and pay all: paid once',
      start: async () => {
        const invoice = await billSoldJob(service);
        return { invoice, requests: [payment(invoice), payment(invoice)] };
      },
      ends: () => [0],
    },
    {
      name: 'pay and void: one of both',
      start: async () => {
        const bill = await billSoldJob(service);
        const { made, invoice } = await move(service, bill, 'payments', cash(1_000));
        const undo = { path: `/v1/payments/${made.id}/void`, body: { reason: 'Came back.' } };
        return { invoice, requests: [payment(invoice), undo] };
      },
      ends: (totalCents) => [0, totalCents],
    },
    {
      name: 'pay all and credit some: one of both',
      start: async () => {
        const invoice = await billSoldJob(service);
        const memo = creditOf(invoice, 'labor', 500);
        return { invoice, requests: [payment(invoice), to(invoice, 'credit-memos', memo)] };
      },
      ends: (totalCents) => [0, totalCents - 500],
    },
    {
      name: 'credit and credit of one line: credited once',
      start: async () => {
        const invoice = await billSoldJob(service);
        const memo = to(invoice, 'credit-memos', creditOf(invoice, 'labor', 500));
        return { invoice, requests: [memo, memo] };
      },
      ends: (totalCents) => [totalCents - 500],
    },
    {
      name: 'refund and refund: given back once',
      start: async () => {
        const bill = await billSoldJob(service);
        const paid = await move(service, bill, 'payments', cash(bill.body.balanceCents));
        const memo = creditOf(bill, 'labor', 500);
        const { invoice } = await move(service, paid.invoice, 'credit-memos', memo);
        const refund = to(invoice, 'refunds', cash(500));
        return { invoice, requests: [refund, refund] };
      },
      ends: () => [0],
    },
  ];

  it.each(races)(
    '$name, the other is told',
    async ({ start, ends }) => {
      for (let round = 0; round < ROUNDS; round += 1) {
        const { invoice, requests } = await start();
        await expectOneEffect(requests, invoice.tag);
        expect(ends(invoice.body.totalCents)).toContain(await balanceOf(invoice.body.id));
      }
      await expectMoneyHolds();
    },
    120_000,
  );

  it('pay in parts, each of them seeing the last state: never more than is owed', async () => {
    for (let round = 0; round < ROUNDS; round += 1) {
      const invoice = await billSoldJob(service);
      const half = Math.ceil(invoice.body.balanceCents / 2) + 1;
      const request = to(invoice, 'payments', cash(half));
      // Whoever means any version at all gets past the tag, and is stopped by the balance.
      const answers = await Promise.all(Array.from({ length: 6 }, () => post(request, '*')));
      const refused = answers.filter(({ status }) => status !== 201);
      expect(refused.map(({ body }) => body.code)).toEqual(Array(5).fill('above-balance'));
      expect(await balanceOf(invoice.body.id)).toBe(invoice.body.totalCents - half);
    }
    await expectMoneyHolds();
  }, 120_000);
});

describe('two who issue at once', () => {
  it('one invoice: it is issued once and gets one number', async () => {
    for (let round = 0; round < ROUNDS; round += 1) {
      const { draft } = await closeSoldJob(service);
      const issue = to(draft, 'issue', {});
      await expectOneEffect([issue, issue], draft.tag);
      const { rows } = await service.owner.query(
        'SELECT number FROM invoice_issue WHERE invoice_id = $1',
        [draft.body.id],
      );
      expect(rows).toHaveLength(1);
    }
    await expectMoneyHolds();
  }, 120_000);

  it('two invoices: both are issued, one number after the other', async () => {
    for (let round = 0; round < ROUNDS; round += 1) {
      const drafts = [(await closeSoldJob(service)).draft, (await closeSoldJob(service)).draft];
      const answers = await Promise.all(
        drafts.map((draft) => post(to(draft, 'issue', {}), draft.tag)),
      );
      const numbers = answers.map((answer) => expectStatus(answer, 200).body.number);
      expect(Math.abs(numbers[0] - numbers[1])).toBe(1);
    }
    await expectMoneyHolds();
  }, 120_000);

  it('credit memos of two invoices: both are issued, one number after the other', async () => {
    for (let round = 0; round < ROUNDS; round += 1) {
      const invoices = [await billSoldJob(service), await billSoldJob(service)];
      const answers = await Promise.all(
        invoices.map((invoice) =>
          post(to(invoice, 'credit-memos', creditOf(invoice, 'labor', 100)), invoice.tag),
        ),
      );
      const numbers = answers.map((answer) => expectStatus(answer, 201).body.number);
      expect(Math.abs(numbers[0] - numbers[1])).toBe(1);
    }
    await expectMoneyHolds();
  }, 120_000);
});

function to({ body }: QuoteAt, verb: string, sent: object): Request {
  return { path: `/v1/invoices/${body.id}/${verb}`, body: sent };
}

/** All that is owed. */
function payment(invoice: QuoteAt): Request {
  return to(invoice, 'payments', cash(invoice.body.balanceCents));
}

function post({ path, body }: Request, ifMatch: string): Promise<Answer> {
  return service.as('owner').post(path, body, { ifMatch });
}

/** Sends each request several times over: one goes through, all others are told why not. */
async function expectOneEffect(requests: readonly Request[], ifMatch: string): Promise<void> {
  const sent = Array.from({ length: TIMES }, () => requests).flat();
  const answers = await Promise.all(sent.map((request) => post(request, ifMatch)));
  const done = answers.filter(({ status }) => status < 300);
  expect(done, answers.map(({ text }) => text).join('\n')).toHaveLength(1);
  const refused = answers.filter(({ status }) => status >= 300).map(({ status }) => status);
  expect(refused).toEqual(refused.map(() => 412));
}

async function balanceOf(invoiceId: string): Promise<number | undefined> {
  const { rows } = await service.owner.query<{ balance: number }>(
    'SELECT invoice_balance($1)::int AS balance',
    [invoiceId],
  );
  return rows[0]?.balance;
}

/** What must be true of all money, read from the database itself. */
async function expectMoneyHolds(): Promise<void> {
  for (const [law, question] of Object.entries(BROKEN)) {
    const { rows } = await service.owner.query(question);
    expect(rows, law).toEqual([]);
  }
}

const BROKEN = {
  'settled means that nothing is owed either way': `
    SELECT s.invoice_id FROM invoice_state s JOIN invoice_issue i ON i.invoice_id = s.invoice_id
    WHERE (s.state = 'settled') <> (invoice_balance(s.invoice_id) = 0)`,
  'nobody paid more than was billed': `
    SELECT i.invoice_id FROM invoice_issue i JOIN payment p ON p.invoice_id = i.invoice_id
    WHERE NOT EXISTS (SELECT 1 FROM payment_void v WHERE v.payment_id = p.id)
    GROUP BY i.invoice_id, i.total_cents HAVING sum(p.amount_cents) > i.total_cents`,
  'nobody got back more than was overpaid': `
    SELECT r.invoice_id FROM refund r JOIN invoice_issue i ON i.invoice_id = r.invoice_id
    WHERE invoice_balance(r.invoice_id) > 0`,
  'an invoice is the sum of its lines': `
    SELECT i.invoice_id FROM invoice_issue i
    LEFT JOIN invoice_line l ON l.invoice_id = i.invoice_id
    GROUP BY i.invoice_id, i.total_cents
    HAVING coalesce(sum(l.amount_cents), 0) <> i.total_cents`,
  'numbers of invoices and of credit memos have no gap': `
    SELECT 'invoice' FROM invoice_issue HAVING count(*) <> coalesce(max(number), 0)
    UNION ALL
    SELECT 'memo' FROM credit_memo HAVING count(*) <> coalesce(max(number), 0)`,
};
