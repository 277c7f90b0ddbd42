import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { priceBook } from '../../seed/price-book.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';

const HEADER =
  'date,technician,complaint,found,done,parts,hours,arrived,left,fee,labor,tax,charged';

/** The invented book at a rate that a pencil can do: 120.00 an hour, and nothing else to carry. */
const pencilBook = {
  ...priceBook,
  effectiveFrom: '2026-01-01T00:00:00Z',
  rates: {
    annualBurdenedWageCents: 12_000_000,
    annualAvailableHours: 1_000,
    billableFraction: '1',
    annualTruckCents: 0,
    annualOverheadCents: 0,
    technicianCount: 1,
    margin: '0',
  },
};

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
  expectStatus(await service.as('owner').post('/v1/price-books', pencilBook), 201);
});
afterAll(() => service.close());

function send(lines: readonly string[], { who = 'owner', name = '2025.csv' } = {}) {
  const path = `/v1/bill-imports?origin=other_company&fileName=${encodeURIComponent(name)}`;
  const file = Buffer.from([HEADER, ...lines].join('\r\n'));
  return service.as(who === 'owner' ? 'owner' : 'dispatcher').send(path, 'text/csv', file);
}

async function takeIn(...lines: string[]) {
  const { headers } = expectStatus(await send(lines), 201);
  return expectStatus(await service.as('owner').get(headers['location'] ?? ''), 200).body;
}

async function billsOf(importId: string, query = '') {
  const path = `/v1/bill-imports/${importId}/bills?limit=100${query}`;
  return expectStatus(await service.as('owner').get(path), 200).body.items;
}

async function importCount(): Promise<number> {
  const found = await service.owner.query('SELECT count(*)::int AS n FROM bill_import');
  return found.rows[0].n;
}

describe('a file of bills of another time or company', () => {
  it('is judged as far as its bills tell: the $700 capacitor stands beside its fair total', async () => {
    const taken = await takeIn(
      '7/3/2025,Rowan,No cooling,,Replaced capacitor,,,10:00,,,,0,700.00',
      '2025-07-04,Rowan,No cooling,,cleared drain,,,9:00,10:00,44.50,80.00,0,124.50',
      '2025-07-05,Juniper,Dead,,flipped breaker,,,10:00,,89,161,0,250.00',
      '2025-07-06,Juniper,Dead,,replaced flux capacitor,,3,9:00,10:15,,360,0,900.00',
    );
    expect(taken).toMatchObject({
      fileName: '2025.csv',
      origin: 'other_company',
      billCount: 4,
      importedById: service.staff.owner.id,
      summary: { chargedCents: 197_450, notPricedCount: 1 },
    });
    const [capacitor, drain, breaker, flux] = await billsOf(taken.id);
    // 89.00 + 55.20 + 30 min 60.00 + access 20.00 - 44.50 = 179.70; 5 % above it is 188.685.
    expect(capacitor).toMatchObject({
      importId: taken.id,
      line: 2,
      billedOn: '2025-07-03',
      technician: 'Rowan',
      done: 'Replaced capacitor',
      chargedCents: 70_000,
      taxCents: 0,
      feeCents: null,
      judgement: {
        overCents: 70_000 - 18_868,
        fair: { totalCents: 17_970, taxCents: 0, taskCodes: ['replace_dual_run_capacitor'] },
        notPriced: [],
        judgedBy: { rulesetVersion: 'auditing-1' },
      },
    });
    const flagged = (bill: { judgement: { flags: { ruleCode: string }[] } }) =>
      bill.judgement.flags.map(({ ruleCode }) => ruleCode).sort();
    expect(flagged(capacitor)).toEqual(['above_ceiling', 'sum_not_split']);
    // Fairly billed, line by line.
    expect(drain.judgement).toMatchObject({
      overCents: 0,
      flags: [],
      fair: { totalCents: 12_450 },
    });
    // A reset comes to the fee; the labor of 161.00 does not stand.
    expect(flagged(breaker)).toContain('reset_billed_as_repair');
    expect(breaker.judgement).toMatchObject({ overCents: 16_100, fair: { totalCents: 8_900 } });
    // Not understood, and still its hours are held against its clock: of two people 2.5 of 3 hours
    // of 360.00.
    expect(flux.judgement).toMatchObject({
      overCents: 36_000 - 30_000,
      fair: null,
      notPriced: ['Not understood: “replaced flux capacitor”.'],
    });
    expect(flagged(flux)).toContain('hours_beyond_clock');
    const unjudged = flux.judgement.cannotJudge.find(
      ({ ruleCode }: { ruleCode: string }) => ruleCode === 'above_ceiling',
    );
    expect(unjudged.missing).toContain('what_was_done');
  });

  it('sums up what is flagged, rule by rule', async () => {
    const taken = await takeIn(
      '2025-08-04,,,,replaced capacitor,,,10:00,,,,0,700.00',
      '2025-08-04,,,,replaced capacitor,,,10:00,,,,0,2000.00',
      '2025-08-05,,,,replaced capacitor,,,10:00,,89,80,0,169.00',
    );
    const { summary } = expectStatus(
      await service.as('owner').get(`/v1/bill-imports/${taken.id}`),
      200,
    ).body;
    const overCents = 70_000 + 200_000 - 2 * 18_868;
    expect(summary).toMatchObject({ flaggedCount: 2, overCents, notPricedCount: 0 });
    const ofRule = (code: string) =>
      summary.rules.find(({ ruleCode }: { ruleCode: string }) => ruleCode === code);
    expect(ofRule('above_ceiling')).toMatchObject({ flaggedCount: 2, overCents });
    expect(ofRule('above_ceiling').statement).toMatch(/\.$/);
    // No bill tells of findings.
    expect(ofRule('line_without_finding')).toMatchObject({ flaggedCount: 0, cannotJudgeCount: 3 });
  });

  it('is read page by page, all of it or what is flagged', async () => {
    const taken = await takeIn(
      ...Array.from(
        { length: 7 },
        (_, at) => `2025-09-0${at + 1},,,,replaced capacitor,,,,,89,80,0,${at % 2 ? 169 : 700}`,
      ),
    );
    const path = `/v1/bill-imports/${taken.id}/bills?only=flagged&limit=3`;
    const first = expectStatus(await service.as('owner').get(path), 200).body;
    expect(first.items.map(({ line }: { line: number }) => line)).toEqual([2, 4, 6]);
    const next = `${path}&cursor=${first.nextCursor}`;
    const second = expectStatus(await service.as('owner').get(next), 200).body;
    expect(second.items.map(({ line }: { line: number }) => line)).toEqual([8]);
    expect(second.nextCursor).toBeNull();
    const [bill] = second.items;
    const one = await service.as('owner').get(`/v1/imported-bills/${bill.id}`);
    expect(expectStatus(one, 200).body).toEqual(bill);
    const other = await service
      .as('owner')
      .get(`${path.replace('only=flagged&', '')}&cursor=${first.nextCursor}`);
    expectProblem(other, 'cursor-invalid');
  });

  it('is listed, the newest first where that is asked', async () => {
    const taken = await takeIn('2025-10-01,,,,,,,,,,,,10');
    const list = await service.as('owner').get('/v1/bill-imports?order=newest&limit=1');
    const { summary: _, ...head } = taken;
    expect(expectStatus(list, 200).body.items).toEqual([head]);
  });

  it('is taken whole or not at all, and every mistake is named by line and column', async () => {
    const before = await importCount();
    const refused = await send([
      '2025-02-30,,,,,,,,,,,,about 700',
      '2025-07-03,,,,,capacitor @ cheap,,25:00,,,,,700',
      '2025-07-03,,,,,,,,,600,200,,700',
      '2027-01-01,,,,,,,,,,,,700',
    ]);
    expectProblem(refused, 'file-has-mistakes');
    expect(
      refused.body.mistakes.map(({ line, column }: { line: number; column: string }) => [
        line,
        column,
      ]),
    ).toEqual([
      [2, 'date'],
      [2, 'charged'],
      [3, 'parts'],
      [3, 'arrived'],
      [4, 'charged'],
      [5, 'date'],
    ]);
    expectProblem(await send([]), 'file-has-mistakes');
    expect(await importCount()).toBe(before);
  });

  it('is taken in once, whatever it is called', async () => {
    const lines = ['2025-11-01,,,,replaced contactor,,,,,,,,400'];
    await takeIn(...lines);
    const before = await importCount();
    expectProblem(await send(lines, { name: 'again.csv' }), 'already-exists');
    expect(await importCount()).toBe(before);
  });

  it('is taken in once when it is sent ten times together', async () => {
    const lines = ['2025-11-02,,,,replaced contactor,,,,,,,,400'];
    const answers = await Promise.all(Array.from({ length: 10 }, () => send(lines)));
    expect(answers.map(({ status }) => status).sort()).toEqual([201, ...Array(9).fill(409)]);
  });

  it('is the owner’s alone', async () => {
    const { id } = await takeIn('2025-11-03,,,,replaced contactor,,,,,,,,400');
    const [bill] = await billsOf(id);
    expectProblem(await send(['2025-11-04,,,,,,,,,,,,400'], { who: 'dispatcher' }), 'forbidden');
    for (const who of ['dispatcher', 'technician'] as const) {
      for (const path of [
        '/v1/bill-imports',
        `/v1/bill-imports/${id}`,
        `/v1/bill-imports/${id}/bills`,
        `/v1/imported-bills/${bill.id}`,
      ]) {
        expectProblem(await service.as(who).get(path), 'forbidden');
      }
    }
  });

  it('is in the journal by its hash, without a name or a word of it', async () => {
    const { id } = await takeIn('2025-11-05,Rowan,,,replaced contactor,,,,,,,,400');
    const journal = await service.as('owner').get(`/v1/journal?subjectId=${id}`);
    const { items } = expectStatus(journal, 200).body;
    expect(items).toMatchObject([{ event: 'bill_import.taken_in' }]);
    expect(JSON.stringify(items)).not.toMatch(/Rowan|contactor|2025\.csv/);
  });

  it('has our tax in the fair price where a bill does not tell its own apart', async () => {
    const { id } = await takeIn('2026-07-03,,,,replaced 45/5 capacitor,,,10:00,,,,,700');
    const [{ judgement }] = await billsOf(id);
    expect(judgement.fair.taxCents).toBeGreaterThan(0);
    expect(judgement.fair.totalCents).toBe(17_970 + judgement.fair.taxCents);
    expect(judgement.fair.choices.join(' ')).toContain('does not tell its tax apart');
  });

  it('is priced after hours where somebody came after hours', async () => {
    const { id } = await takeIn(
      '2025-12-01,,,,cleared drain,,,21:00,22:00,,,0,300',
      '2025-12-01,,,,cleared drain,,,,,,,0,300',
      // A Sunday, for which the schedule has no regular hours.
      '2025-12-07,,,,cleared drain,,,10:00,11:00,,,0,300',
      '2025-12-06,,,,cleared drain,,,10:00,11:00,,,0,300',
    );
    const [late, unknown, sunday, saturday] = await billsOf(id);
    expect(sunday.judgement.fair.totalCents).toBe(18_450);
    expect(saturday.judgement.fair.totalCents).toBe(12_450);
    // 129.00 + 90.00 + 30.00 - 64.50
    expect(late.judgement.fair.totalCents).toBe(18_450);
    // Nobody knows when, so it may have been after hours, too.
    expect(unknown.judgement.fair.totalCents).toBe(18_450);
    expect(unknown.judgement.fair.choices).toContain(
      'The bill does not say when somebody came, so the dearest of our hours are taken: after hours. In the cheapest it comes to $124.50.',
    );
    expect(unknown.judgement.fair.fromCents).toBe(12_450);
    expect(saturday.judgement.fair.fromCents).toBe(12_450);
  });

  it('is priced in the hours whose visit fee it states', async () => {
    const { id } = await takeIn(
      '2025-12-01,,,,cleared drain,,,,,89,,0,300',
      '2025-12-01,,,,cleared drain,,,,,129,,0,300',
      // A fee of nobody's hours tells none.
      '2025-12-01,,,,cleared drain,,,,,99,,0,300',
      // The clock tells more than the fee.
      '2025-12-01,,,,cleared drain,,,21:00,,89,,0,300',
    );
    const bills = await billsOf(id);
    const fairs = bills.map(({ judgement }: { judgement: { fair: unknown } }) => judgement.fair);
    expect(fairs).toMatchObject([
      { totalCents: 12_450, fromCents: 12_450 },
      { totalCents: 18_450, fromCents: 18_450 },
      { totalCents: 18_450, fromCents: 12_450 },
      { totalCents: 18_450, fromCents: 18_450 },
    ]);
    expect(fairs[0].choices).toEqual([
      'The bill does not say when somebody came. Its visit fee of $89.00 is that of our hours “regular”, so these are taken.',
    ]);
    expect(fairs[3].choices).toEqual([]);
  });

  it('may hold ten thousand bills', async () => {
    const lines = Array.from(
      { length: 10_000 },
      (_, at) =>
        `2025-01-${String((at % 28) + 1).padStart(2, '0')},,,,replaced capacitor and contactor,,,,,,,0,${500 + at}`,
    );
    const taken = await takeIn(...lines);
    expect(taken).toMatchObject({ billCount: 10_000, summary: { notPricedCount: 0 } });
    // 312.10 and 5 % are 327.705, so all of them are above.
    expect(taken.summary.flaggedCount).toBe(10_000);
    expectProblem(await send([...lines, lines[0] ?? '']), 'file-has-mistakes');
  });
});

describe('a newer price book', () => {
  it('judges every bill again, also those of files taken in before', async () => {
    const taken = await takeIn('2025-12-24,,,,replaced 35/5 capacitor,,,10:00,,,,0,190');
    const before = await billsOf(taken.id);
    // 89.00 + 47.70 + 60.00 + 20.00 - 44.50 = 172.20, and 5 % are 180.81.
    expect(before).toMatchObject([
      { judgement: { fair: { totalCents: 17_220 }, overCents: 19_000 - 18_081 } },
    ]);
    const dearer = { ...pencilBook, effectiveFrom: '2026-02-01T00:00:00Z' };
    const periods = priceBook.periods.map((period) => ({ ...period, visitFeeCents: 11_900 }));
    const book = await service.as('owner').post('/v1/price-books', { ...dearer, periods });
    const { id: priceBookId } = expectStatus(book, 201).body;
    // A fee of 119.00, half of it credited, is 15.00 more: 187.20, and 190.00 is within 5 %.
    const [after] = await billsOf(taken.id);
    expect(after.judgement).toMatchObject({
      fair: { totalCents: 18_720 },
      overCents: 0,
      judgedBy: { priceBookId },
    });
    expect(after.judgement.flags.map(({ ruleCode }: { ruleCode: string }) => ruleCode)).toEqual([
      'sum_not_split',
    ]);
    const kept = await service.owner.query(
      'SELECT over_cents, price_book_version_id FROM imported_bill WHERE import_id = $1',
      [taken.id],
    );
    expect(kept.rows).toEqual([{ over_cents: 0, price_book_version_id: priceBookId }]);
    expect(await billsOf(taken.id, '&only=flagged')).toHaveLength(1);
  });

  it('is judged by several who look at once, without one standing in the way of another', async () => {
    const lines = Array.from(
      { length: 600 },
      (_, at) => `2025-12-26,,,,replaced contactor,,,,,,,0,${at + 300}`,
    );
    const { id } = await takeIn(...lines);
    const newest = { ...pencilBook, effectiveFrom: '2026-03-01T00:00:00Z' };
    expectStatus(await service.as('owner').post('/v1/price-books', newest), 201);
    const paths = [
      `/v1/bill-imports/${id}`,
      `/v1/bill-imports/${id}/bills`,
      `/v1/bill-imports/${id}`,
    ];
    const answers = await Promise.all(paths.map((path) => service.as('owner').get(path)));
    expect(answers.map(({ status }) => status)).toEqual([200, 200, 200]);
    expect(answers[0]?.body.summary).toEqual(answers[2]?.body.summary);
  });
});

describe('the picture of a file', () => {
  it('has each price beside what the work may come to at most, the dearest mistakes first', async () => {
    const taken = await takeIn(
      '2025-08-03,Rowan,Dead,,flipped breaker,,,,,89,161,0,250.00',
      '2025-08-04,Rowan,No cooling,,Replaced capacitor,,,,,,,0,700.00',
      '2025-08-05,Rowan,No cooling,,Replaced capacitor,,,,,,,0,180.00',
      '2025-08-06,Rowan,No cooling,,replaced flux capacitor,,,,,,,0,900.00',
    );
    const answer = await service.as('owner').get(`/v1/bill-imports/${taken.id}/plot`);
    const { headers, body } = expectStatus(answer, 200);
    expect(headers['content-type']).toBe('image/svg+xml');
    const svg = Buffer.from(body).toString();
    expect(svg).toContain('<title>Charged, beside the fair price</title>');
    expect(svg).toMatch(/Above it lie: Replace [^,]+, 1 of 2; Reset the breaker, 1 of 1\./);
    expect(svg).not.toContain('flux');
  });
});
