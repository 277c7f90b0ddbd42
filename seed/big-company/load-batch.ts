import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import type pg from 'pg';
import { from as copyFrom } from 'pg-copy-streams';
import { type Batch, type QuoteStep, stepOrder } from './batch.ts';
import { sqlColumns, type TableName, tableNames } from './rows.ts';

/** Loads a batch in one transaction: rows first, and the answers to quotes once they are issued. */
export async function loadBatch(client: pg.Client, batch: Batch): Promise<void> {
  await client.query('BEGIN');
  try {
    for (const table of tableNames.filter((name) => !ANSWERS.has(name))) {
      await copy(client, table, batch.lines[table]);
    }
    for (const step of stepOrder) {
      if (step === 'answer') await copyAnswers(client, batch);
      await move(
        client,
        batch.steps.filter((each) => each.step === step),
      );
    }
    await client.query(FORGET_QUEUE);
    await client.query('COMMIT');
  } catch (error) {
    await client.query('ROLLBACK').catch(() => undefined);
    throw error;
  }
}

/** Papers come with them, for each tells of something that is there. */
const ANSWERS = new Set<TableName>(['quote_acceptance', 'quote_decline', 'paper']);

async function copyAnswers(client: pg.Client, { lines }: Batch): Promise<void> {
  for (const table of tableNames.filter((name) => ANSWERS.has(name))) {
    await copy(client, table, lines[table]);
  }
}

async function copy(client: pg.Client, table: TableName, lines: string[]): Promise<void> {
  if (lines.length === 0) return;
  const stream = client.query(copyFrom(`COPY ${table} (${sqlColumns(table)}) FROM STDIN`));
  await pipeline(Readable.from(chunksOf(lines)), stream);
}

/** Some hundred kilobytes at a time: few writes, and none that holds the other connection up. */
function* chunksOf(lines: string[]): Generator<Buffer> {
  for (let at = 0; at < lines.length; at += LINES_PER_CHUNK) {
    yield Buffer.from(lines.slice(at, at + LINES_PER_CHUNK).join(''));
  }
}

const LINES_PER_CHUNK = 200;

async function move(client: pg.Client, steps: QuoteStep[]): Promise<void> {
  if (steps.length === 0) return;
  await client.query(MOVE, [
    steps.map(({ quoteId }) => quoteId),
    steps.map(({ revision }) => revision),
    steps.map(({ state }) => state),
    steps.map(({ at }) => at),
  ]);
}

const MOVE = `
  UPDATE quote_state s SET state = step.state, version = s.version + 1, changed_at = step.at
  FROM unnest($1::uuid[], $2::int[], $3::quote_state_name[], $4::timestamptz[])
    AS step (quote_id, revision, state, at)
  WHERE s.quote_id = step.quote_id AND s.revision = step.revision`;

/** The entries came with their seals, so the sealer has nothing to do for them. */
const FORGET_QUEUE = `
  DELETE FROM journal_unsealed u USING journal_seal s WHERE s.entry_id = u.entry_id`;
