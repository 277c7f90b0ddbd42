import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { hashBatches } from '../../seed/big-company/batch.ts';
import { bigCompany } from '../../seed/big-company/big-company.ts';
import { loadBigCompany } from '../../seed/big-company/load-big-company.ts';
import { createTestDatabase, type TestDatabase } from '../harness/test-database.ts';

const turned = { tickets: 90, seed: 11, journal: true, turns: 0.5 };

describe('a company whose life takes uncommon turns', () => {
  it('is the same to the last row for the same seed, however it is cut', () => {
    expect(hashBatches(bigCompany(turned, 13))).toBe(hashBatches(bigCompany(turned, 250)));
  });

  it('tells nothing wrong of them', () => {
    const truths = [...bigCompany(turned)].flatMap((batch) => batch.truths);
    expect(truths.filter(({ kind }) => kind !== 'part_failed_again')).toEqual([]);
  });
});

describe('uncommon turns, loaded past every guard of the database', () => {
  let database: TestDatabase;
  beforeAll(async () => {
    database = await createTestDatabase();
    const company = { tickets: 1_500, seed: 4, journal: false, turns: 0.5 };
    await loadBigCompany({ ...company, ownerUrl: database.url });
  }, 180_000);
  afterAll(() => database.drop());

  const count = async (sql: string): Promise<number> => {
    const { rows } = await database.owner.query<{ count: number }>(
      `SELECT count(*)::int AS count ${sql}`,
    );
    return rows[0]?.count ?? 0;
  };

  it.each([
    ['change orders after a yes', 'FROM quote WHERE parent_id IS NOT NULL'],
    [
      'two trips with a fee each on one ticket',
      `FROM (SELECT ticket_id FROM visit WHERE purpose = 'call' AND fee_cents > 0
        GROUP BY 1 HAVING count(*) > 1) t`,
    ],
    ['visits within the trip of another', 'FROM visit WHERE same_trip_as IS NOT NULL'],
    [
      'the same fault found after it was mended at the same visit, at no charge',
      `FROM finding f JOIN finding first ON first.visit_id = f.visit_id
        AND first.fault_code = f.fault_code AND first.id < f.id
        JOIN quote_line l ON f.id = ANY (l.finding_ids) AND l.kind = 'labor'
        JOIN work_outcome w ON w.finding_id = first.id AND w.recorded_at < f.found_at
        WHERE l.amount_cents = 0`,
    ],
    ['prices changed by hand', "FROM invoice_line WHERE kind = 'adjustment'"],
    ['goodwill on part of a bill', "FROM credit_memo WHERE kind = 'goodwill'"],
    [
      'memos of tax alone',
      `FROM credit_memo m WHERE kind = 'correction' AND NOT EXISTS (SELECT FROM credit_memo_line l
        WHERE l.memo_id = m.id AND l.price_class <> 'tax')`,
    ],
    [
      'quotes by a newer price book than the fee',
      `FROM quote q JOIN quote_revision r ON r.quote_id = q.id JOIN visit v ON v.id = q.visit_id
        WHERE r.price_book_version_id <> v.price_book_version_id`,
    ],
    [
      'agreements that ended between the call and the visit',
      `FROM visit v JOIN ticket t ON t.id = v.ticket_id JOIN site_agreement a ON a.site_id = t.site_id
        WHERE v.fee_agreement IS NOT NULL
          AND a.ends_on <= (v.arrived_at AT TIME ZONE 'America/Chicago')::date`,
    ],
    [
      'technicians who waited at a locked door',
      `FROM visit WHERE state = 'no_access' AND left_at - arrived_at >= interval '20 minutes'`,
    ],
    [
      'yeses of an evening that is the next day in UTC',
      `FROM quote_acceptance WHERE (accepted_at AT TIME ZONE 'America/Chicago')::date
        < (accepted_at AT TIME ZONE 'UTC')::date`,
    ],
    [
      'yeses on the last day of a maker’s warranty',
      `FROM quote_acceptance a JOIN quote q ON q.id = a.quote_id JOIN finding f ON f.visit_id = q.visit_id
        JOIN equipment e ON e.id = f.equipment_id
        WHERE e.parts_warranty_until = (a.accepted_at AT TIME ZONE 'America/Chicago')::date`,
    ],
    [
      'evenings on which the warranty on our own work ends',
      `FROM visit v JOIN finding f ON f.visit_id = v.id JOIN equipment e ON e.id = f.equipment_id
        JOIN equipment same ON same.system_id = e.system_id
        JOIN finding mended ON mended.equipment_id = same.id AND mended.fault_code = f.fault_code
        JOIN work_outcome w ON w.finding_id = mended.id AND w.visit_id <> v.id
        WHERE w.labor_warranty_until = (v.arrived_at AT TIME ZONE 'America/Chicago')::date`,
    ],
    [
      'parts put in again after some months',
      `FROM part_use u JOIN finding f ON f.id = u.finding_id JOIN finding b
        ON b.equipment_id = f.equipment_id AND b.fault_code = f.fault_code
        JOIN part_use before ON before.finding_id = b.id AND before.part_code = u.part_code
        WHERE u.recorded_at - before.recorded_at BETWEEN interval '100 days' AND interval '365 days'`,
    ],
  ])('has %s', async (_what, sql) => {
    expect(await count(sql)).toBeGreaterThan(0);
  });

  it('charges no fee for a second visit of a trip, nor for a change order', async () => {
    const fees = await count(`
      FROM quote q JOIN quote_acceptance a ON a.quote_id = q.id
      JOIN quote_line l ON l.option_id = a.option_id AND l.kind = 'visit_fee'
      JOIN visit v ON v.id = q.visit_id
      WHERE l.amount_cents > 0 AND (q.parent_id IS NOT NULL OR v.same_trip_as IS NOT NULL)`);
    expect(fees).toBe(0);
  });
});
