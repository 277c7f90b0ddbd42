import pg from 'pg';
import { readingsOfPeriod } from '../../src/audit-reports/readings-of-period.ts';
import { judgeJob } from '../../src/auditing/index.ts';
import type { KnownBooks } from '../../src/audits/book-shelf.ts';
import { loadJobs } from '../../src/audits/load-jobs.ts';
import { storeOf } from '../../src/audits/store.ts';
import { openDatabase } from '../../src/platform/database/database.ts';
import type { Judge, Judged } from './audit-company.ts';

/** Judges tickets by the current rules, loaded as the program loads them, and writes nothing. */
export async function judgeCompany(url: string): Promise<Judge> {
  const db = await openDatabase({ url, poolMax: 2 });
  const known: KnownBooks = new Map();
  return {
    judge: async (ticketIds) => {
      const jobs = await db.transact(
        (tx) => loadJobs(storeOf(tx), ticketIds, known),
        'ReadCommitted',
      );
      const flags: Judged['flags'][number][] = [];
      const overCents = new Map<string, number>();
      for (const { ticketId, facts } of jobs) {
        const judgement = judgeJob(facts);
        for (const { ruleCode } of judgement.flags) flags.push({ ticketId, ruleCode });
        if (judgement.flags.length > 0) overCents.set(ticketId, judgement.overCents);
      }
      return { flags, overCents };
    },
    habits: async () => {
      await writeDown(url);
      const whole = { from: new Date(0), to: new Date('2100-01-01') };
      const patterns = await readingsOfPeriod(db.pool, whole, (technicianId) => technicianId);
      return patterns.flatMap(({ rows }) =>
        rows.filter(({ standing }) => standing === 'stands_out').map(({ subject }) => subject),
      );
    },
    close: () => db.close(),
  };
}

/** What was judged, as far as the readings of a period ask for it. */
async function writeDown(url: string): Promise<void> {
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  await client.query(`
    INSERT INTO audit_judgement (ticket_id, ruleset_version, facts_hash, ended_at, judged_at, over_cents,
      flag_count, cannot_judge)
    SELECT id, 'auditing-1', repeat('0', 64), first_closed_at, first_closed_at, 0, 0, '[]'
    FROM ticket WHERE state = 'closed'`);
  await client.query('ANALYZE audit_judgement');
  await client.end();
}
