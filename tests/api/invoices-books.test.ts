import { parse } from 'csv-parse/sync';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { cash, closeSoldJob, creditOf, issueInvoice, move, sendVoid } from '../harness/invoice.ts';
import type { QuoteAt } from '../harness/job.ts';
import { readInvoice } from '../harness/read-invoice.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
});
afterAll(() => service.close());

// America/Chicago is five hours behind UTC in July: a day ends at 05:00 in UTC.
describe('a day’s takings', () => {
  let bill: QuoteAt;
  beforeAll(async () => {
    bill = await billOn('2026-07-14T18:00:00Z');
  });

  it('end at the company’s own midnight', async () => {
    const at = (receivedAt: string, amountCents: number) => ({ ...cash(amountCents), receivedAt });
    service.clock.set('2026-07-20T18:00:00Z');
    for (const [receivedAt, amountCents] of [
      ['2026-07-15T04:59:59Z', 100],
      ['2026-07-15T05:00:00Z', 20],
      ['2026-07-16T04:59:59Z', 3],
    ] as const) {
      bill = (await move(service, bill, 'payments', at(receivedAt, amountCents))).invoice;
    }
    const taken = async (day: string) => (await takings(day)).totalCents;
    expect(await taken('2026-07-14')).toBe(100);
    expect(await taken('2026-07-15')).toBe(23);
    expect(await taken('2026-07-16')).toBe(0);
  });

  it('are told by method and by who took them, less what was voided and given back', async () => {
    service.clock.set('2026-08-04T18:00:00Z');
    const check = { method: 'check', reference: 'No. 7', amountCents: 5_000 };
    const paid = await move(service, bill, 'payments', check);
    const technician = await service
      .as('technician')
      .post(`/v1/invoices/${bill.body.id}/payments`, cash(700), { ifMatch: paid.invoice.tag });
    expectStatus(technician, 201);
    bill = await readInvoice(service, bill.body.id);
    expectStatus(await sendVoid(service, bill, paid.made.id), 200);
    const day = await takings('2026-08-04');
    expect(day).toMatchObject({
      totalCents: 700,
      byMethod: {
        cash: { paidCents: 700, voidedCents: 0, refundedCents: 0, netCents: 700 },
        check: { paidCents: 5_000, voidedCents: 5_000, netCents: 0 },
        card: { netCents: 0 },
      },
    });
    const byStaff = Object.fromEntries(
      day.byStaff.map((one: { staffId: string; totalCents: number }) => [
        one.staffId,
        one.totalCents,
      ]),
    );
    const names = await service.owner.query(
      'SELECT id AS "staffId", name AS "staffName" FROM staff',
    );
    expect(names.rows).toEqual(
      expect.arrayContaining(
        day.byStaff.map(({ staffId, staffName }: Named) => ({ staffId, staffName })),
      ),
    );
    expect(byStaff).toEqual({
      [service.staff.technician.id]: 700,
      [service.staff.owner.id]: 0,
    });
  });

  it('are the office’s to see', async () => {
    expectProblem(await service.as('technician').get('/v1/takings'), 'forbidden');
    expectProblem(await service.as('technician').get('/v1/receivables'), 'forbidden');
  });
});

describe('what customers owe', () => {
  it.each([
    ['2026-09-10', 0, 'not_due'],
    ['2026-09-11', 1, 'days_1_30'],
    ['2026-10-10', 30, 'days_1_30'],
    ['2026-10-11', 31, 'days_31_60'],
    ['2026-11-09', 60, 'days_31_60'],
    ['2026-11-10', 61, 'days_61_90'],
    ['2026-12-09', 90, 'days_61_90'],
    ['2026-12-10', 91, 'over_90_days'],
  ])('due on September 10, is on %s %i days overdue: %s', async (asOf, daysOverdue, bucket) => {
    const bill = await september();
    service.clock.set('2027-01-04T18:00:00Z');
    const { body } = await receivables(asOf);
    expect(inList(body, bill)).toMatchObject({
      dueOn: '2026-09-10',
      daysOverdue,
      bucket,
      balanceCents: bill.body.totalCents,
    });
    expect(body.owedCents[bucket]).toBeGreaterThanOrEqual(bill.body.totalCents);
  });

  it('begins with the day of issue, on the company’s calendar', async () => {
    const bill = await september();
    expect(inList((await receivables('2026-09-09')).body, bill)).toBeUndefined();
    expect(inList((await receivables('2026-09-10')).body, bill)).toBeDefined();
  });

  it('is told as it was on a day that is over, whatever was paid since', async () => {
    const bill = await billOn('2027-02-02T18:00:00Z');
    const { totalCents } = bill.body;
    service.clock.set('2027-02-03T18:00:00Z');
    const part = await move(service, bill, 'payments', cash(1_000));
    service.clock.set('2027-02-04T18:00:00Z');
    await move(service, part.invoice, 'payments', cash(totalCents - 1_000));
    const owed = async (day: string) => inList((await receivables(day)).body, bill)?.balanceCents;
    expect(await owed('2027-02-02')).toBe(totalCents);
    expect(await owed('2027-02-03')).toBe(totalCents - 1_000);
    expect(await owed('2027-02-04')).toBeUndefined();
  });

  it('is not made less by what we owe others', async () => {
    service.clock.set('2027-03-02T18:00:00Z');
    const before = (await receivables()).body;
    const bill = await billOn('2027-03-02T18:00:00Z');
    const paid = await move(service, bill, 'payments', cash(bill.body.totalCents));
    const credited = await move(
      service,
      paid.invoice,
      'credit-memos',
      creditOf(bill, 'labor', 400),
    );
    const { body } = await receivables();
    expect(body.owedTotalCents).toBe(before.owedTotalCents);
    expect(body.owedBackCents).toBe(before.owedBackCents + 400);
    expect(inList(body, bill)?.balanceCents).toBe(-credited.made.totalCents);
  });

  it('is read page by page, the longest due first, with whom to call; the sums are of all', async () => {
    for (const instant of [
      '2028-01-05T18:00:00Z',
      '2028-01-03T18:00:00Z',
      '2028-01-04T18:00:00Z',
    ]) {
      await billOn(instant);
    }
    service.clock.set('2028-01-05T19:00:00Z');
    const whole = (await receivables('2028-01-05', 'limit=100')).body;
    expect(whole.nextCursor).toBeNull();
    const due = whole.invoices.map(({ dueOn, number }: DueOn) => `${dueOn} ${number}`);
    expect(due).toEqual([...due].sort());
    expect(whole.invoices.at(-1)).toMatchObject({
      payerName: 'Winifred Ashgrove',
      payerPhone: expect.stringMatching(/\d{4}$/),
    });
    const read: Listed[] = [];
    let cursor = '';
    do {
      const page = (await receivables('2028-01-05', `limit=2${cursor}`)).body;
      expect(page).toMatchObject({
        owedCents: whole.owedCents,
        owedTotalCents: whole.owedTotalCents,
        owedBackCents: whole.owedBackCents,
      });
      expect(page.invoices.length).toBeLessThanOrEqual(2);
      read.push(...page.invoices);
      cursor = page.nextCursor === null ? '' : `&cursor=${page.nextCursor}`;
    } while (cursor !== '');
    expect(read).toEqual(whole.invoices);
    const owed = read.filter(({ balanceCents }) => balanceCents > 0);
    expect(owed.reduce((sum, { balanceCents }) => sum + balanceCents, 0)).toBe(
      whole.owedTotalCents,
    );
    const { nextCursor } = (await receivables('2028-01-05', 'limit=1')).body;
    const otherDay = `/v1/receivables?asOf=2028-01-04&limit=1&cursor=${nextCursor}`;
    expectProblem(await service.as('owner').get(otherDay), 'cursor-invalid');
  });

  let made: QuoteAt | undefined;
  /** Issued on September 10, 2026 at 23:30 local time and due at once. */
  async function september(): Promise<QuoteAt> {
    made ??= await billOn('2026-09-11T04:30:00Z');
    return made;
  }
});

describe('the bookkeeper’s file', () => {
  it('balances entry by entry, and moves exactly what happened', async () => {
    const bill = await billOn('2027-04-06T18:00:00Z');
    const { totalCents, taxCents, number } = bill.body;
    const paid = await move(service, bill, 'payments', cash(1_000));
    const check = { method: 'check', reference: '=1+1', amountCents: totalCents - 1_000 };
    const rest = await move(service, paid.invoice, 'payments', check);
    const credited = await move(service, rest.invoice, 'credit-memos', creditOf(bill, 'part', 520));
    const { totalCents: creditCents, taxCents: taxBackCents } = credited.made;
    await move(service, credited.invoice, 'refunds', cash(creditCents));
    const voided = await readInvoice(service, bill.body.id);
    expectStatus(await sendVoid(service, voided, rest.made.id), 200);

    const rows = await entries('2027-04-06', '2027-04-06');
    const byEntry = new Map<string, number>();
    for (const { entry, debit, credit } of rows) {
      byEntry.set(entry, (byEntry.get(entry) ?? 0) + inCents(debit) - inCents(credit));
    }
    const [first, second] = [paid.made.receiptNumber, rest.made.receiptNumber];
    expect([...byEntry.keys()].sort()).toEqual(
      [
        `credit-memo-${credited.made.number}`,
        `invoice-${number}`,
        `invoice-${number}-refund-1`,
        `receipt-${first}`,
        `receipt-${second}`,
        `receipt-${second}-void`,
      ].sort(),
    );
    expect([...byEntry.values()]).toEqual([0, 0, 0, 0, 0, 0]);
    // What was billed less credit, cash, check and its void, and what was given back.
    expect(accounts(rows)).toMatchObject({
      accounts_receivable: totalCents - 1_000,
      cash: 1_000 - creditCents,
      undeposited_checks: 0,
      sales_parts: -(5_520 - 520),
      'sales_tax_payable:quill_county': -(taxCents - taxBackCents),
    });
    expect(rows[0]).toMatchObject({ date: '2027-04-06', document: `Invoice ${number}` });
    // What a spreadsheet would run is guarded.
    expect(rows.map(({ memo }) => memo)).toContain('Winifred Ashgrove; =1+1');
  });

  it('never changes for days that are over, whatever is written down later', async () => {
    const bill = await billOn('2027-07-06T18:00:00Z');
    service.clock.set('2027-07-08T18:00:00Z');
    const exported = await entries('2027-07-06', '2027-07-07');
    const late = { ...cash(1_000), receivedAt: '2027-07-07T18:00:00Z' };
    const paid = await move(service, bill, 'payments', late);
    expect(await entries('2027-07-06', '2027-07-07')).toEqual(exported);
    const today = await entries('2027-07-08', '2027-07-08');
    expect(today).toMatchObject([
      {
        entry: `receipt-${paid.made.receiptNumber}`,
        date: '2027-07-08',
        account: 'cash',
        memo: 'Winifred Ashgrove; of 2027-07-07',
      },
      { account: 'accounts_receivable' },
    ]);
    expect((await takings('2027-07-07')).totalCents).toBe(1_000);
  });

  it('names each entry by its document, so that it is known again in any file', async () => {
    const bill = await billOn('2027-08-03T18:00:00Z');
    const { totalCents, number } = bill.body;
    const paid = await move(service, bill, 'payments', cash(totalCents));
    const credit = creditOf(bill, 'labor', 500);
    const credited = await move(service, paid.invoice, 'credit-memos', credit);
    const part = await move(service, credited.invoice, 'refunds', cash(200));
    service.clock.set('2027-08-04T18:00:00Z');
    await move(service, part.invoice, 'refunds', cash(300));
    const named = async (from: string, to: string) =>
      (await entries(from, to)).map(({ entry, document }) => `${entry}: ${document}`);
    const second = `invoice-${number}-refund-2: Refund 2 on invoice ${number}`;
    const whole = await named('2027-08-03', '2027-08-04');
    expect(whole).toContain(`invoice-${number}-refund-1: Refund 1 on invoice ${number}`);
    expect(whole).toContain(second);
    expect(new Set(await named('2027-08-04', '2027-08-04'))).toEqual(new Set([second]));
  });

  it('is of the company’s today unless days are asked for', async () => {
    const { number } = (await billOn('2027-09-02T04:30:00Z')).body;
    const path = '/v1/bookkeeping/entries.csv';
    const file = expectStatus(await service.as('owner').get(path), 200);
    expect(file.headers['content-disposition']).toContain('entries-2027-09-01-to-2027-09-01.csv');
    expect(file.text).toContain(`Invoice ${number}`);
    const since = expectStatus(await service.as('owner').get(`${path}?from=2027-08-30`), 200);
    expect(since.headers['content-disposition']).toContain('2027-08-30-to-2027-09-01');
    const tomorrow = await service.as('owner').get(`${path}?from=2027-09-02`);
    expect(expectProblem(tomorrow, 'validation-failed').body.errors).toMatchObject([
      { in: 'query', pointer: '/to', message: 'is before from' },
    ]);
  });

  it('guards a cell that a spreadsheet would run', async () => {
    const bill = await billOn('2027-05-04T18:00:00Z');
    await service.owner.query("UPDATE customer SET name = '=HYPERLINK(1)' WHERE id = $1", [
      bill.body.payerId,
    ]);
    const rows = await entries('2027-05-04', '2027-05-04');
    expect(rows.length).toBeGreaterThan(0);
    for (const { memo } of rows) expect(memo.startsWith("'=HYPERLINK(1)")).toBe(true);
  });

  it('holds the days asked for, on the company’s calendar, a quarter at most', async () => {
    const { number } = (await billOn('2027-06-02T04:30:00Z')).body;
    const documents = async (from: string, to: string) =>
      (await entries(from, to)).map(({ document }) => document);
    expect(await documents('2027-06-01', '2027-06-01')).toContain(`Invoice ${number}`);
    expect(await documents('2027-06-02', '2027-06-30')).toEqual([]);
    for (const [from, to] of [
      ['2027-06-02', '2027-06-01'],
      ['2027-01-01', '2027-04-03'],
    ] as const) {
      expectProblem(await sendEntries(from, to), 'validation-failed');
    }
    expectProblem(
      await service
        .as('dispatcher')
        .get('/v1/bookkeeping/entries.csv?from=2027-06-01&to=2027-06-01'),
      'forbidden',
    );
  });
});

/** An invoice of a new capacitor, issued at an instant, at which the clock then stands. */
async function billOn(instant: string): Promise<QuoteAt> {
  // Every ticket is worked in the days for which its visit was booked.
  service.clock.set('2026-07-14T18:00:00Z');
  const { draft } = await closeSoldJob(service);
  service.clock.set(instant);
  return issueInvoice(service, draft);
}

async function takings(day: string) {
  return expectStatus(await service.as('dispatcher').get(`/v1/takings?day=${day}`), 200).body;
}

async function receivables(asOf?: string, page = 'limit=100') {
  const query = asOf === undefined ? page : `${page}&asOf=${asOf}`;
  return expectStatus(await service.as('dispatcher').get(`/v1/receivables?${query}`), 200);
}

interface Named {
  staffId: string;
  staffName: string;
}

interface DueOn {
  dueOn: string;
  number: number;
}

interface Listed {
  id: string;
  balanceCents: number;
}

function inList(body: { invoices: Listed[] }, bill: QuoteAt): Listed | undefined {
  return body.invoices.find(({ id }) => id === bill.body.id);
}

interface Row {
  entry: string;
  date: string;
  document: string;
  account: string;
  debit: string;
  credit: string;
  memo: string;
}

function sendEntries(from: string, to: string) {
  return service.as('owner').get(`/v1/bookkeeping/entries.csv?from=${from}&to=${to}`);
}

async function entries(from: string, to: string): Promise<Row[]> {
  const file = expectStatus(await sendEntries(from, to), 200);
  expect(file.headers['content-type']).toBe('text/csv; charset=utf-8');
  return parse(file.text, { columns: true, bom: true });
}

/** Dollars of a cell in cents, by their digits. */
function inCents(cell: string): number {
  expect(cell).toMatch(/^(\d+\.\d{2})?$/);
  return Number(cell.replace('.', ''));
}

/** Debits less credits by account. */
function accounts(rows: readonly Row[]): Record<string, number> {
  const sums: Record<string, number> = {};
  for (const { account, debit, credit } of rows) {
    sums[account] = (sums[account] ?? 0) + inCents(debit) - inCents(credit);
  }
  return sums;
}
