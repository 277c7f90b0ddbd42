import { readFile } from 'node:fs/promises';
import type pg from 'pg';
import { verifyJournal } from '../../src/journal/index.ts';
import type { EmbeddedServer } from '../../src/platform/database/embedded/index.ts';
import { repriceQuotes } from '../../src/quotes/index.ts';
import { databaseOnALine } from './database-on-a-line.ts';
import { type JobsWritten, startJobWriters } from './job-writers.ts';
import { loadOffice, openBooks, poolFor } from './load-office.ts';
import { postmasterOf } from './postmaster-of.ts';
import { figure, type ServiceProcess, startProcess } from './process.ts';
import { temporaryFolder, type Undo, until } from './temporary.ts';

/** What was left after everything was killed again and again under people at work. */
export interface CrashReport {
  kills: { service: number; database: number };
  /** From the start of what was killed to the next answer that the service is ready. */
  readyMs: { service: number[]; database: number[] };
  written: JobsWritten;
  /** Acknowledged, and not there. */
  lost: string[];
  /** There twice, or more often than somebody asked for it. */
  doubled: string[];
  /** Quotes of which a part is missing, or whose price is not what it computes to. */
  halfQuotes: string[];
  journalFaults: string[];
  optionsRepriced: number;
}

export interface CrashSize {
  /** How often each of the two is killed. */
  kills: number;
  writers: number;
  /** How many writes are acknowledged before each kill. */
  writesBetween: number;
}

/** Kills the service and its database in turn, with SIGKILL, while people are at work. */
export async function crashLoops(
  undo: Undo,
  { kills, writers: count, writesBetween }: CrashSize,
): Promise<CrashReport> {
  const { url, server, startAgain } = await databaseOnALine(undo);
  const office = await loadOffice(url);
  const folder = await temporaryFolder(undo);
  const start = () => startProcess(undo, { DATABASE_URL: url, EVENHAND_DATA_DIR: folder });
  let service = await start();
  await openBooks(service.url, office.tokens.owner);
  const writers = startJobWriters(undo, { url: () => service.url, office, count });
  const { written } = writers;
  const readyMs: CrashReport['readyMs'] = { service: [], database: [] };
  for (let nth = 0; nth < kills; nth += 1) {
    await writesMore(written, writesBetween);
    service.kill();
    await service.ended;
    const serviceAt = performance.now();
    service = await start();
    await until(() => isReady(service));
    readyMs.service.push(performance.now() - serviceAt);

    await writesMore(written, writesBetween);
    await killDatabase(server());
    const databaseAt = performance.now();
    await startAgain();
    await until(() => isReady(service));
    readyMs.database.push(performance.now() - databaseAt);
  }
  await writesMore(written, writesBetween);
  await writers.stop();
  for (const name of ['evenhand_journal_unsealed_entries', 'evenhand_audit_unread_entries']) {
    await until(async () => (await figure(service.metricsUrl, name)) === 0);
  }
  const pool = poolFor(url, undo);
  const halfQuotes: string[] = [];
  const { options } = await repriceQuotes(pool, { withDrafts: true }, (difference) =>
    halfQuotes.push(JSON.stringify(difference)),
  );
  return {
    kills: { service: kills, database: kills },
    ...{ readyMs, written },
    lost: await lostOf(pool, written),
    doubled: await rowsOf(pool, DOUBLED),
    halfQuotes: [...halfQuotes, ...(await rowsOf(pool, HALF_QUOTES))],
    journalFaults: (await verifyJournal(pool)).faults.map((fault) => JSON.stringify(fault)),
    optionsRepriced: options,
  };
}

/** Whoever was refused for good does no more, so waiting ends there too. */
async function writesMore(written: JobsWritten, count: number): Promise<void> {
  const enough = written.writes + count;
  await until(() => written.writes >= enough || written.refused.length > 0);
}

async function isReady(service: ServiceProcess): Promise<boolean> {
  const answer = await fetch(`${service.url}/readyz`).catch(() => undefined);
  return answer?.ok === true;
}

/** The server and all its processes at once, as when a machine loses its power. */
async function killDatabase(server: EmbeddedServer): Promise<void> {
  const pid = await postmasterOf(server);
  const children = await readFile(`/proc/${pid}/task/${pid}/children`, 'utf8');
  for (const each of [String(pid), ...children.split(' ')].filter((text) => text !== '')) {
    try {
      process.kill(Number(each), 'SIGKILL');
    } catch {
      // It ended by itself in between.
    }
  }
  await server.unexpectedEnd;
}

/** Which table keeps what a path makes. */
const KEPT: Record<string, string> = {
  '/v1/customers': 'SELECT id FROM customer',
  '/v1/sites': 'SELECT id FROM site',
  '/v1/sites/:id/systems': 'SELECT id FROM comfort_system',
  '/v1/systems/:id/equipment': 'SELECT id FROM equipment',
  '/v1/tickets': 'SELECT id FROM ticket',
  '/v1/visits': 'SELECT id FROM visit',
  '/v1/visits/:id/arrive': `SELECT id FROM visit WHERE state = 'on_site'`,
  '/v1/visits/:id/findings': 'SELECT id FROM finding',
  '/v1/quotes': 'SELECT id FROM quote',
  '/v1/quotes/:id/issue': `SELECT quote_id FROM quote_state WHERE state = 'issued'`,
};

async function lostOf(pool: pg.Pool, { acknowledged }: JobsWritten): Promise<string[]> {
  const lost: string[] = [];
  for (const [kind, kept] of Object.entries(KEPT)) {
    const { rows } = await pool.query<{ id: string }>(
      `SELECT id::text FROM unnest($1::uuid[]) AS told (id) EXCEPT SELECT it::text FROM (${kept}) AS kept (it)`,
      [acknowledged.get(kind) ?? []],
    );
    lost.push(...rows.map(({ id }) => `${kind} ${id}`));
  }
  return lost;
}

async function rowsOf(pool: pg.Pool, questions: Record<string, string>): Promise<string[]> {
  const found: string[] = [];
  for (const [what, question] of Object.entries(questions)) {
    const { rows } = await pool.query(question);
    found.push(...rows.map((row) => `${what}: ${JSON.stringify(row)}`));
  }
  return found;
}

// A job asks for each of these once; see the steps of a job.
const DOUBLED: Record<string, string> = {
  'a customer': `SELECT name FROM customer WHERE name LIKE 'Perpetua Load %'
    GROUP BY name HAVING count(*) > 1`,
  'a site': `SELECT street FROM site WHERE street LIKE '% Thistle Court'
    GROUP BY street HAVING count(*) > 1`,
  'a ticket': `SELECT t.site_id FROM ticket t JOIN site s ON s.id = t.site_id
    WHERE s.street LIKE '% Thistle Court' GROUP BY t.site_id HAVING count(*) > 1`,
  'a visit': `SELECT v.ticket_id FROM visit v JOIN ticket t ON t.id = v.ticket_id
    JOIN site s ON s.id = t.site_id WHERE s.street LIKE '% Thistle Court'
    GROUP BY v.ticket_id HAVING count(*) > 1`,
  'a reading': `SELECT r.visit_id FROM reading r JOIN visit v ON v.id = r.visit_id
    JOIN ticket t ON t.id = v.ticket_id JOIN site s ON s.id = t.site_id
    WHERE s.street LIKE '% Thistle Court' GROUP BY r.visit_id HAVING count(*) <> 2`,
  'a quote': `SELECT q.visit_id FROM quote q JOIN ticket t ON t.id = q.ticket_id
    JOIN site s ON s.id = t.site_id WHERE s.street LIKE '% Thistle Court'
    GROUP BY q.visit_id HAVING count(*) > 1`,
  'an entry of one change': `SELECT event, subject_id FROM journal_entry
    WHERE event IN ('customer.added', 'site.added', 'ticket.opened', 'quote.drafted', 'quote.issued')
    GROUP BY event, subject_id HAVING count(*) > 1`,
};

const HALF_QUOTES: Record<string, string> = {
  'without a revision': `SELECT q.id FROM quote q
    WHERE NOT EXISTS (SELECT FROM quote_revision r WHERE r.quote_id = q.id)`,
  'without an option': `SELECT r.quote_id FROM quote_revision r
    WHERE NOT EXISTS (SELECT FROM quote_option o WHERE o.revision_id = r.id)`,
  'without a line': `SELECT o.id FROM quote_option o
    WHERE NOT EXISTS (SELECT FROM quote_line l WHERE l.option_id = o.id)`,
  'that does not add up': `SELECT o.id FROM quote_option o
    JOIN quote_line l ON l.option_id = o.id
    GROUP BY o.id HAVING sum(l.amount_cents) <> o.total_cents`,
  'issued and not on record, or on record and not issued': `SELECT s.quote_id FROM quote_state s
    FULL JOIN quote_issue i ON i.quote_id = s.quote_id AND i.revision = s.revision
    WHERE (s.state = 'issued') IS DISTINCT FROM (i.quote_id IS NOT NULL)`,
};
