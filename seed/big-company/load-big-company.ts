import { setImmediate as breathe } from 'node:timers/promises';
import pg from 'pg';
import { type Batch, newBatch } from './batch.ts';
import { bigCompany } from './big-company.ts';
import { type CompanySize, hasWrongs } from './company-plan.ts';
import { loadBatch } from './load-batch.ts';
import { tableNames } from './rows.ts';
import type { Truth } from './wrongs/truth.ts';

/** What was loaded, and how long it took. */
export interface LoadReport {
  tickets: number;
  rows: number;
  seconds: number;
  ticketsPerSecond: number;
  rssMaxMegabytes: number;
}

export interface LoadOptions extends CompanySize {
  /** Of the role that owns the schema. */
  ownerUrl: string;
  /** Called after every batch, with the tickets so far. */
  onProgress?: (tickets: number) => void;
  /** Called with each thing that was written wrongly on purpose. */
  onTruth?: (truth: Truth) => void;
}

/**
 * Fills an empty database with an invented company. Every guard of the database stays on: what
 * COPY brings is checked like what the program writes, and a batch that breaks a rule is refused.
 * Only a company with wrongs is loaded past the triggers, as a superuser can: the audit is to be tried
 * on what they would have stopped.
 * @throws Error when the database holds a company, customers or tickets already
 */
export async function loadBigCompany({ ownerUrl, onProgress, onTruth, ...size }: LoadOptions) {
  const client = new pg.Client({ connectionString: ownerUrl, options: '-c timezone=UTC' });
  await client.connect();
  try {
    await requireEmpty(client);
    // A crash in the middle leaves nothing worth keeping, so no commit waits for the disk.
    await client.query('SET synchronous_commit = off');
    if (hasWrongs(size)) await client.query('SET session_replication_role = replica');
    const report = await loadAll(client, size, { onProgress, onTruth });
    if (hasWrongs(size)) await client.query('RESET session_replication_role');
    await client.query(COUNT_ON);
    await client.query('VACUUM ANALYZE');
    return report;
  } finally {
    await client.end();
  }
}

async function requireEmpty(client: pg.Client): Promise<void> {
  const found = await client.query<{ used: boolean }>(`
    SELECT EXISTS (SELECT FROM ticket) OR EXISTS (SELECT FROM customer)
      OR EXISTS (SELECT FROM company) AS used`);
  if (found.rows[0]?.used !== false) {
    throw new Error('This database holds a company already; a big one needs an empty database.');
  }
}

/** Whom to tell how it goes. */
interface Tellers {
  onProgress: LoadOptions['onProgress'];
  onTruth: LoadOptions['onTruth'];
}

const TICKETS_PER_LOAD = 1_000;
const TICKETS_PER_SLICE = 10;

/** Writes the next tickets while the database takes the last ones. */
async function loadAll(
  client: pg.Client,
  size: CompanySize,
  { onProgress, onTruth }: Tellers,
): Promise<LoadReport> {
  const startedAt = process.hrtime.bigint();
  const counts = { tickets: 0, rows: 0, rssMaxMegabytes: 0 };
  let waiting = newBatch();
  let loading = Promise.resolve();
  const send = async () => {
    await loading;
    const batch = waiting;
    waiting = newBatch();
    counts.tickets += batch.lines.ticket.length;
    counts.rows += tableNames.reduce((sum, name) => sum + batch.lines[name].length, 0);
    counts.rssMaxMegabytes = Math.max(counts.rssMaxMegabytes, process.memoryUsage.rss() / 1e6);
    onProgress?.(counts.tickets);
    loading = loadBatch(client, batch);
    // Whoever awaits it next hears of a failure; until then it is not unheard of.
    loading.catch(() => undefined);
  };
  for (const slice of bigCompany(size, TICKETS_PER_SLICE)) {
    pour(slice, waiting);
    for (const truth of slice.truths) onTruth?.(truth);
    if (waiting.lines.ticket.length >= TICKETS_PER_LOAD) await send();
    await breathe();
  }
  if (waiting.lines.ticket.length > 0) await send();
  await loading;
  const seconds = Number(process.hrtime.bigint() - startedAt) / 1e9;
  return { ...counts, seconds, ticketsPerSecond: counts.tickets / seconds };
}

function pour(from: Batch, into: Batch): void {
  for (const name of tableNames) {
    for (const line of from.lines[name]) into.lines[name].push(line);
  }
  into.steps.push(...from.steps);
  into.changeSteps.push(...from.changeSteps);
  into.ticketSteps.push(...from.ticketSteps);
  into.invoiceSteps.push(...from.invoiceSteps);
}

/** The program goes on counting where the invented numbers end. */
const COUNT_ON = `
  SELECT setval('ticket_number_seq', (SELECT max(number) FROM ticket)),
    setval('quote_number_seq', (SELECT coalesce(max(number), 1000) FROM quote)),
    setval('receipt_number_seq', (SELECT coalesce(max(receipt_number), 1000) FROM payment))`;
