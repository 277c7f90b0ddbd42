import type pg from 'pg';
import { revisionDifferences } from './revision-differences.ts';
import { type RevisionScope, storedRevisions } from './stored-revisions.ts';

/** How much was priced again, and in how many places it did not come out as it is stored. */
export interface RepriceReport {
  readonly quotes: number;
  readonly revisions: number;
  readonly options: number;
  readonly lines: number;
  readonly differences: number;
}

/**
 * Prices every stored revision again and compares every step. Changes nothing. Differences are told
 * one by one as they are found, because there may be more than memory holds.
 */
export async function repriceQuotes(
  pool: pg.Pool,
  scope: RevisionScope,
  tell: (difference: string) => void,
): Promise<RepriceReport> {
  const client = await pool.connect();
  try {
    await client.query('BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY');
    await client.query('SET LOCAL statement_timeout = 0');
    const report = await reprice(client, scope, tell);
    await client.query('COMMIT');
    return report;
  } catch (error) {
    await client.query('ROLLBACK').catch(() => undefined);
    throw error;
  } finally {
    client.release();
  }
}

async function reprice(
  client: pg.ClientBase,
  scope: RevisionScope,
  tell: (difference: string) => void,
): Promise<RepriceReport> {
  const report = { quotes: 0, revisions: 0, options: 0, lines: 0, differences: 0 };
  for await (const quote of storedRevisions(client, scope)) {
    report.quotes += 1;
    for (const revision of quote.revisions) {
      report.revisions += 1;
      report.options += revision.options.length;
      for (const { lines } of revision.options) report.lines += lines.length;
      for (const difference of revisionDifferences(revision)) {
        report.differences += 1;
        tell(`quote ${quote.number} revision ${revision.number}: ${difference}`);
      }
    }
  }
  return report;
}
