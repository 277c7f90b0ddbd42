import type pg from 'pg';
import { auditRows } from './audit-rows.ts';
import { boardRows } from './board-rows.ts';
import { erasingRows } from './erasing-rows.ts';
import { agreedLines, followUpRow, jobs, lifeRows, linkRow, settled } from './life-rows.ts';
import {
  deliveryRows,
  paperFileRow,
  paperKeyRow,
  paperRow,
  papers,
  workRecordRow,
} from './paper-rows.ts';
import {
  confirmationRow,
  declineNoteRow,
  declineRow,
  draftRows,
  issued,
  moveTo,
  revisionId,
  revisionRows,
} from './quote-rows.ts';
import {
  agreementRow,
  bookDraftRow,
  bookPartRow,
  bookRow,
  bookTaskRow,
  companyRow,
  customerRow,
  documentRow,
  entryRow,
  findingOverrideRow,
  findingPartRow,
  findingRow,
  id,
  ids,
  insert,
  observationRow,
  photoRow,
  readingRow,
  type Statement,
  sealRow,
  sha256Of,
  siteRow,
  sql,
  staffRow,
  taxRuleRow,
  ticketRow,
  visitRow,
} from './rows.ts';
import { signInRows } from './sign-in-rows.ts';
import { supplyRows } from './supply-rows.ts';

/** The quotes of the stock by the state they are in. */
export const quotes = { draft: 301, issued: 302, accepted: 303, declined: 304 } as const;

/** Fills an empty database with one of everything, so that each guard has something to guard. */
export async function stock(owner: pg.Pool): Promise<void> {
  const client = await owner.connect();
  try {
    await client.query('BEGIN');
    for (const statement of stockRows()) await client.query(statement);
    await client.query('COMMIT');
  } finally {
    client.release();
  }
}

function stockRows(): Statement[] {
  return [
    ...placeRows(),
    ...bookDraftRows(),
    ...jobRows(),
    ...lifeRows(),
    ...quoteRows(),
    ...supplyRows(),
    ...boardRows(),
    ...signInRows(),
    ...auditRows(),
    ...erasingRows(),
    ...journalRows(),
  ];
}

function placeRows(): Statement[] {
  return [
    companyRow(),
    staffRow({ id: ids.owner, role: 'owner' }),
    staffRow({ id: ids.technician }),
    staffRow({ id: ids.otherTechnician }),
    customerRow({ id: ids.customer }),
    siteRow({ id: ids.site }),
    insert('comfort_system', {
      id: ids.system,
      site_id: ids.site,
      name: 'Main floor',
      created_at: '2026-07-15T18:00:00Z',
    }),
    insert('equipment', {
      id: ids.equipment,
      system_id: ids.system,
      kind: 'condensing_unit',
      created_at: '2026-07-15T18:00:00Z',
    }),
    bookRow({ id: ids.book, number: 1 }),
    bookTaskRow({ code: 'replace_dual_run_capacitor' }),
    bookPartRow({ code: 'CAP-45-5-440' }),
    taxRuleRow({ id: id(98), effective_from: '2026-01-01', effective_to: '2027-01-01' }),
    agreementRow({ id: ids.agreement, starts_on: '2026-01-01', ends_on: '2027-01-01' }),
  ];
}

function bookDraftRows(): Statement[] {
  return [
    bookDraftRow({ id: ids.openDraft }),
    bookDraftRow({
      ...{ id: ids.publishedDraft, state: 'published' },
      published_version_id: ids.book,
    }),
    bookDraftRow({ id: ids.droppedDraft, state: 'dropped' }),
  ];
}

function jobRows(): Statement[] {
  return [
    ticketRow({ id: ids.ticket }),
    ticketRow({ id: ids.otherTicket }),
    visitRow({
      id: ids.visit,
      state: 'on_site',
      arrived_at: '2026-07-15T18:04:00Z',
      window_start: '2026-07-15T18:00:00Z',
      window_end: '2026-07-15T20:00:00Z',
    }),
    visitRow({
      id: ids.otherVisit,
      ticket_id: ids.otherTicket,
      technician_id: ids.otherTechnician,
    }),
    readingRow({ id: ids.reading }),
    observationRow({ id: ids.observation }),
    findingRow({ id: ids.proven }),
    findingRow({ id: ids.unproven, standing: 'unproven', priceable: false }),
    findingRow({ id: ids.overridden, standing: 'unproven', priceable: false }),
    findingRow({ id: ids.reset, remedy_class: 'reset', task_code: 'reset_breaker' }),
    findingRow({ id: ids.ofOtherVisit, visit_id: ids.otherVisit }),
    findingPartRow(),
    findingOverrideRow({ finding_id: ids.overridden }),
  ];
}

function quoteRows(): Statement[] {
  return [
    ...draftRows({ number: quotes.draft }),
    ...draftRows({ number: quotes.issued }),
    ...issued(quotes.issued),
    ...revisionRows({ number: quotes.issued, revision: 2 }),
    ...revisionRows({
      ...{ number: quotes.accepted, revision: 2 },
      options: [{ lines: agreedLines(jobs.agreed) }],
    }),
    ...draftRows({ number: quotes.declined }),
    ...issued(quotes.declined),
    linkRow(quotes.declined, {
      ...{ id: id(1_207), holder: 'payer', token_hash: Buffer.alloc(32, 2) },
    }),
    declineRow(quotes.declined, {
      ...{ link_id: id(1_207), recorded_by_id: null, condition_left: null },
    }),
    moveTo(quotes.declined, 'declined'),
    declineNoteRow(quotes.declined),
    sql(`UPDATE quote_link SET revoked_at = '2026-07-15T20:00:00Z' WHERE id = $1`, [id(1_207)]),
    confirmationRow(quotes.issued),
    linkRow(quotes.issued, { id: settled.link, holder: 'payer', token_hash: Buffer.alloc(32, 1) }),
    followUpRow(quotes.issued, { step: 1 }),
    documentRow({ sha256: sha256Of('a paper'), bytes: Buffer.from('a paper') }),
    documentRow({
      sha256: sha256Of('a photo'),
      bytes: Buffer.from('a photo'),
      kind: 'photo',
    }),
    photoRow({ sha256: sha256Of('a photo') }),
    ...paperRows(),
  ];
}

function paperRows(): Statement[] {
  return [
    paperRow({ id: papers.quote, revision_id: revisionId(quotes.issued) }),
    paperFileRow({ paper_id: papers.quote, sha256: sha256Of('a paper') }),
    paperKeyRow({ kid: 'first', public_key: '{"kid":"first"}' }),
    workRecordRow(jobs.settled),
    ...deliveryRows(),
  ];
}

// One entry is sealed, one waits.
function journalRows(): Statement[] {
  return [
    entryRow({ id: ids.entry }),
    entryRow({ id: ids.waitingEntry }),
    sealRow({ position: 1, entry_id: ids.entry, hash: sha256Of('the first seal') }),
    sql('DELETE FROM journal_unsealed WHERE entry_id = $1', [ids.entry]),
  ];
}
