import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import type pg from 'pg';
import { from as copyFrom } from 'pg-copy-streams';
import {
  type Batch,
  type InvoiceStep,
  type QuoteStep,
  stepOrder,
  type TicketStep,
  ticketStepOrder,
} from './batch.ts';
import { sqlColumns, sqlTable, type TableName, tableNames } from './rows.ts';

/**
 * Loads a batch in one transaction, in the order in which it came about: what was found, what was
 * offered and answered, what was done, how it was closed, what came back, what was billed and paid.
 */
export async function loadBatch(client: pg.Client, batch: Batch): Promise<void> {
  await client.query('BEGIN');
  try {
    await copyAll(client, batch, tableNames.slice(0, tableNames.indexOf('quote_acceptance')));
    await takeQuoteSteps(client, batch, batch.steps, ['quote_acceptance', 'quote_decline']);
    await copyAll(client, batch, CHANGE_ORDERS);
    await takeQuoteSteps(client, batch, batch.changeSteps, ['quote_acceptance_again']);
    await copyAll(client, batch, ['work_outcome', 'refrigerant_move', 'part_use']);
    for (const step of ticketStepOrder) await takeTicketStep(client, batch, step);
    await copyAll(client, batch, BILLED);
    await moveInvoices(client, batch, 'issue');
    await copyAll(client, batch, ['payment', 'credit_memo', 'credit_memo_line']);
    await moveInvoices(client, batch, 'money');
    await copyAll(client, batch, ['paper', 'journal_entry', 'journal_seal']);
    await client.query(FORGET_QUEUE);
    await client.query('COMMIT');
  } catch (error) {
    await client.query('ROLLBACK').catch(() => undefined);
    throw error;
  }
}

const CHANGE_ORDERS: readonly TableName[] = [
  'quote_again',
  'quote_revision_again',
  'quote_option_again',
  'quote_line_again',
  'quote_state_again',
  'quote_issue_again',
];

async function takeQuoteSteps(
  client: pg.Client,
  batch: Batch,
  steps: readonly QuoteStep[],
  answers: readonly TableName[],
): Promise<void> {
  for (const step of stepOrder) {
    if (step === 'answer') await copyAll(client, batch, answers);
    await moveQuotes(
      client,
      steps.filter((each) => each.step === step),
    );
  }
}

const BILLED: readonly TableName[] = [
  'invoice',
  'invoice_state',
  'invoice_issue',
  'invoice_document',
  'invoice_line',
];

async function copyAll(
  client: pg.Client,
  { lines }: Batch,
  tables: readonly TableName[],
): Promise<void> {
  for (const table of tables) await copy(client, table, lines[table]);
}

/**
 * Closes or opens tickets. A closing has to take effect by commit, and so has what opens the ticket
 * again; where both are loaded at once, each is held to it as soon as it is there.
 */
async function takeTicketStep(
  client: pg.Client,
  batch: Batch,
  step: TicketStep['step'],
): Promise<void> {
  await copyAll(client, batch, RECORD_OF[step]);
  const steps = batch.ticketSteps.filter((each) => each.step === step);
  if (steps.length === 0) return;
  await client.query(MOVE_TICKETS, [
    steps.map(({ ticketId }) => ticketId),
    steps.map(({ state }) => state),
    steps.map(({ moves }) => moves),
  ]);
  await client.query(`SET CONSTRAINTS ${EFFECTS} IMMEDIATE`);
  await client.query(`SET CONSTRAINTS ${EFFECTS} DEFERRED`);
}

const EFFECTS = 'ticket_closing_takes_effect, ticket_callback_takes_effect';

const RECORD_OF: Record<TicketStep['step'], readonly TableName[]> = {
  close: ['ticket_closing'],
  reopen: ['ticket_callback'],
  work_again: [],
  close_again: ['ticket_closing_again'],
};

const MOVE_TICKETS = `
  UPDATE ticket t SET state = step.state, version = t.version + step.moves
  FROM unnest($1::uuid[], $2::ticket_state[], $3::int[]) AS step (ticket_id, state, moves)
  WHERE t.id = step.ticket_id`;

async function moveInvoices(
  client: pg.Client,
  { invoiceSteps }: Batch,
  step: InvoiceStep['step'],
): Promise<void> {
  const steps = invoiceSteps.filter((each) => each.step === step);
  if (steps.length === 0) return;
  await client.query(MOVE_INVOICES, [
    steps.map(({ invoiceId }) => invoiceId),
    steps.map(({ state }) => state),
    steps.map(({ at }) => at),
  ]);
}

const MOVE_INVOICES = `
  UPDATE invoice_state s SET state = step.state, version = s.version + 1, changed_at = step.at
  FROM unnest($1::uuid[], $2::invoice_state_name[], $3::timestamptz[]) AS step (invoice_id, state, at)
  WHERE s.invoice_id = step.invoice_id`;

async function copy(client: pg.Client, table: TableName, lines: string[]): Promise<void> {
  if (lines.length === 0) return;
  const stream = client.query(
    copyFrom(`COPY ${sqlTable(table)} (${sqlColumns(table)}) FROM STDIN`),
  );
  await pipeline(Readable.from(chunksOf(lines)), stream);
}

/** Some hundred kilobytes at a time: few writes, and none that holds the other connection up. */
function* chunksOf(lines: string[]): Generator<Buffer> {
  for (let at = 0; at < lines.length; at += LINES_PER_CHUNK) {
    yield Buffer.from(lines.slice(at, at + LINES_PER_CHUNK).join(''));
  }
}

const LINES_PER_CHUNK = 200;

async function moveQuotes(client: pg.Client, steps: QuoteStep[]): Promise<void> {
  if (steps.length === 0) return;
  await client.query(MOVE_QUOTES, [
    steps.map(({ quoteId }) => quoteId),
    steps.map(({ revision }) => revision),
    steps.map(({ state }) => state),
    steps.map(({ at }) => at),
  ]);
}

const MOVE_QUOTES = `
  UPDATE quote_state s SET state = step.state, version = s.version + 1, changed_at = step.at
  FROM unnest($1::uuid[], $2::int[], $3::quote_state_name[], $4::timestamptz[])
    AS step (quote_id, revision, state, at)
  WHERE s.quote_id = step.quote_id AND s.revision = step.revision`;

/** The entries came with their seals, so the sealer has nothing to do for them. */
const FORGET_QUEUE = `
  DELETE FROM journal_unsealed u USING journal_seal s WHERE s.entry_id = u.entry_id`;
