import { randomUUID } from 'node:crypto';
import { countJobs } from '../../src/audit-reports/count-jobs.ts';
import { readingsOfPeriod } from '../../src/audit-reports/readings-of-period.ts';
import { addToTally, measureWords, patternsOf, startTally } from '../../src/auditing/index.ts';
import { judgeTickets } from '../../src/audits/judge-tickets.ts';
import { nothingKnown } from '../../src/audits/known-terms.ts';
import type { Sql } from '../../src/platform/database/database.ts';
import { openDatabase } from '../../src/platform/database/database.ts';
import type { Judge, Judged } from './audit-company.ts';

/** Judges tickets by the current rules, and writes down what they say, as the program does. */
export async function judgeCompany(url: string): Promise<Judge> {
  const db = await openDatabase({ url, poolMax: 2 });
  const known = nothingKnown();
  const whole = { from: new Date(0), to: new Date('2100-01-01') };
  return {
    judge: async (ticketIds) => {
      const now = new Date();
      await db.transact(
        (tx) => judgeTickets({ tx, now, newId: () => randomUUID(), known }, ticketIds),
        'ReadCommitted',
      );
      return judgedOf(db.pool, ticketIds);
    },
    habits: async () => {
      await db.pool.query('ANALYZE audit_judgement, audit_flag, audit_flag_state');
      const patterns = await readingsOfPeriod(db.pool, whole, (technicianId) => technicianId);
      return patterns.flatMap(({ rows }) =>
        rows.filter(({ standing }) => standing === 'stands_out').map(({ subject }) => subject),
      );
    },
    standOut: async () => {
      const { rows } = await db.pool.query<{ timeZone: string }>(
        'SELECT time_zone AS "timeZone" FROM company',
      );
      const tally = startTally('technician');
      const { timeZone = 'UTC' } = rows[0] ?? {};
      for await (const { count } of countJobs(db.pool, { ...whole, timeZone })) {
        addToTally(tally, count);
      }
      return patternsOf([tally])
        .filter(({ measure }) => measureWords(measure).side === 'look')
        .flatMap(({ rows }) => rows)
        .filter(({ standing }) => standing === 'stands_out')
        .map(({ subject }) => subject);
    },
    close: () => db.close(),
  };
}

async function judgedOf(sql: Sql, ticketIds: readonly string[]): Promise<Judged> {
  const flags = await sql.query<Judged['flags'][number]>(
    `SELECT ticket_id AS "ticketId", rule_code AS "ruleCode" FROM audit_flag
      WHERE ticket_id = ANY ($1) ORDER BY id`,
    [ticketIds],
  );
  const over = await sql.query<{ ticketId: string; overCents: number }>(
    `SELECT ticket_id AS "ticketId", over_cents AS "overCents" FROM audit_judgement
      WHERE ticket_id = ANY ($1) AND flag_count > 0`,
    [ticketIds],
  );
  return {
    flags: flags.rows,
    overCents: new Map(over.rows.map(({ ticketId, overCents }) => [ticketId, overCents])),
  };
}
