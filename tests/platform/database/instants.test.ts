import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { sqlOf } from '../../../src/platform/database/database.ts';
import { inTx } from '../../../src/platform/database/in-tx.ts';
import { id, ids } from '../../database/rows.ts';
import { stock } from '../../database/stock.ts';
import { createTestDatabase, type TestDatabase } from '../../harness/test-database.ts';

const zoneOfTheMachine = process.env['TZ'];

/** Instants at which zones change their offset, and their text as the server writes it in UTC. */
const instants = [
  { iso: '2026-01-15T12:00:00.000Z', stored: '2026-01-15 12:00:00+00' },
  { iso: '2026-07-15T23:59:59.999Z', stored: '2026-07-15 23:59:59.999+00' },
  // New York sets its clocks forward: local times from 2:00 to 3:00 do not exist.
  { iso: '2026-03-08T06:59:59.999Z', stored: '2026-03-08 06:59:59.999+00' },
  { iso: '2026-03-08T07:00:00.000Z', stored: '2026-03-08 07:00:00+00' },
  { iso: '2026-03-08T02:30:00.000Z', stored: '2026-03-08 02:30:00+00' },
  // And back: 1:30 happens twice.
  { iso: '2026-11-01T05:30:00.000Z', stored: '2026-11-01 05:30:00+00' },
  { iso: '2026-11-01T06:30:00.000Z', stored: '2026-11-01 06:30:00+00' },
  { iso: '1999-12-31T23:59:59.001Z', stored: '1999-12-31 23:59:59.001+00' },
];

let database: TestDatabase;

beforeAll(async () => {
  database = await createTestDatabase();
  await stock(database.owner);
});

afterEach(() => {
  if (zoneOfTheMachine === undefined) delete process.env['TZ'];
  else process.env['TZ'] = zoneOfTheMachine;
});

afterAll(() => database.drop());

describe.each([
  { zone: 'America/New_York', winterOffset: 300 },
  { zone: 'Asia/Kolkata', winterOffset: -330 },
  { zone: 'UTC', winterOffset: 0 },
])('on a machine in $zone', ({ zone, winterOffset }) => {
  it.each(instants)('$iso is stored and read back as itself', async ({ iso, stored }) => {
    process.env['TZ'] = zone;
    expect(new Date('2026-01-15T12:00:00Z').getTimezoneOffset()).toBe(winterOffset);
    const instant = new Date(iso);
    await inTx(database.db, async (tx) => {
      await tx.staff.update({ where: { id: ids.technician }, data: { disabledAt: instant } });
      const plain = sqlOf(tx);
      await plain.query('UPDATE staff SET disabled_at = $2 WHERE id = $1', [ids.owner, instant]);
      const texts = await plain.query(
        'SELECT disabled_at::text AS text, disabled_at AS date FROM staff WHERE id = ANY ($1)',
        [[ids.technician, ids.owner]],
      );
      expect(texts.rows).toEqual([
        { text: stored, date: instant },
        { text: stored, date: instant },
      ]);
      const typed = await tx.staff.findMany({ where: { disabledAt: instant } });
      expect(typed.map((each) => each.disabledAt?.toISOString())).toEqual([iso, iso]);
    });
  });

  it('a day is the day that was meant', async () => {
    process.env['TZ'] = zone;
    const day = new Date('2027-03-08T00:00:00Z');
    const rule = await database.db.prisma.taxRule.create({
      data: {
        id: id(winterOffset + 5_000),
        jurisdiction: zone,
        name: 'Sales tax',
        rate: '0.0825',
        taxableClasses: [],
        mode: 'separated',
        basis: 'invoice',
        effectiveFrom: day,
      },
    });
    expect(rule.effectiveFrom).toEqual(day);
    const stored = await database.db.pool.query(
      'SELECT effective_from::text AS day FROM tax_rule WHERE id = $1',
      [rule.id],
    );
    expect(stored.rows).toEqual([{ day: '2027-03-08' }]);
  });
});
