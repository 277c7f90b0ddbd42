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
    close: () => db.close(),
  };
}
