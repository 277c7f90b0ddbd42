import { randomUUID } from 'node:crypto';
import { accepted, draftRows, issued, optionId, paperText, soundLines } from './quote-rows.ts';
import {
  findingRow,
  id,
  ids,
  insert,
  type Row,
  type Statement,
  sha256Of,
  sql,
  ticketRow,
  visitRow,
} from './rows.ts';

const now = '2026-07-15T19:30:00Z';

/** Until when a yes of the jobs can be taken back. */
export const cancelUntil = '2026-07-19T05:00:00Z';

/** A ticket with its visit, its accepted quote and what came of it. Identifiers derive from it. */
export interface Job {
  ticket: string;
  visit: string;
  quote: string;
  /** The finding that the part mends, and the one that only labor mends. */
  part: string;
  labor: string;
  closing: string;
  invoice: string;
  number: number;
}

/** The job of one accepted quote. */
export function jobOf(number: number): Job {
  return {
    ticket: id(3_000 + number),
    visit: id(4_000 + number),
    quote: id(number),
    part: id(5_000 + number),
    labor: id(6_000 + number),
    closing: id(7_000 + number),
    invoice: id(8_000 + number),
    number,
  };
}

/** The jobs of the stock by how far they are. */
export const jobs = {
  /** Said yes to, with somebody on site. */
  agreed: jobOf(303),
  /** Worked and closed, with its invoice in draft. */
  closed: jobOf(306),
  /** Billed and not paid. */
  owed: jobOf(307),
  /** Billed, paid, credited, refunded, and reopened. */
  settled: jobOf(308),
  /** Said yes to, and taken back in time. */
  cancelled: jobOf(309),
} as const;

/** What every job sells: two parts, one more for nothing under its maker’s warranty, and labor. */
export function agreedLines({ part, labor }: Job): Row[] {
  return [
    { key: 'part', kind: 'part', quantity: 2, unit_price_cents: 3_000, amount_cents: 6_000 },
    { key: 'free', kind: 'part', quantity: 1, unit_price_cents: 0, code: 'FUSE-3' },
    { key: 'labor', kind: 'labor', amount_cents: 4_000, finding_ids: [labor] },
    { key: 'tax', kind: 'tax', price_class: 'tax', amount_cents: 800, finding_ids: [] },
  ].map((line) => ({ code: 'CAP-45-5-440', finding_ids: [part], ...line }));
}

/** The ticket, the visit with what was found, and the yes. */
export function agreedRows(job: Job, visit: Row = {}, lines = agreedLines(job)): Statement[] {
  const { number } = job;
  return [
    ...visitedRows(job, visit),
    ...draftRows({ number, quote: quoteOf(job), options: [{ lines }] }),
    ...issued(number),
    ...accepted(number, { total_cents: totalOf(lines), cancel_until: cancelUntil }),
  ];
}

/** The ticket and the visit with what was found. */
export function visitedRows(job: Job, visit: Row = {}): Statement[] {
  return [
    ticketRow({ id: job.ticket, state: 'in_progress' }),
    visitRow({
      ...{ id: job.visit, ticket_id: job.ticket, state: 'finished' },
      ...{ arrived_at: '2026-07-14T18:04:00Z' },
      ...{ window_start: '2026-07-14T18:00:00Z', window_end: '2026-07-14T20:00:00Z', ...visit },
    }),
    findingRow({ id: job.part, visit_id: job.visit }),
    findingRow({ id: job.labor, visit_id: job.visit }),
  ];
}

/** Where a quote of a job hangs. */
export function quoteOf({ ticket, visit }: Job): Row {
  return { ticket_id: ticket, visit_id: visit };
}

/** A change order of a job, as a draft; what it sells rests on a finding of its own. */
export function changeOrder(
  job: Job,
  number: number,
  change: Row = {},
  lines?: Row[],
): Statement[] {
  const found = id(60_000 + number);
  return [
    findingRow({ id: found, visit_id: job.visit }),
    ...draftRows({
      number,
      quote: { ...quoteOf(job), parent_id: job.quote, ...change },
      options: [{ lines: lines ?? linesFor(found) }],
    }),
  ];
}

/** A part of a hundred dollars with its tax, for a finding. */
export function linesFor(finding: string): Row[] {
  return soundLines.map((line) => ({
    ...line,
    finding_ids: line['kind'] === 'tax' ? [] : [finding],
  }));
}

export function outcomeRow(job: Job, change: Row = {}): Statement {
  const isDone = change['outcome'] !== 'not_done';
  return insert('work_outcome', {
    id: randomUUID(),
    quote_id: job.quote,
    finding_id: job.labor,
    visit_id: job.visit,
    outcome: 'done',
    reason: isDone ? null : 'The customer had no more time.',
    labor_warranty_until: isDone ? '2026-08-14' : null,
    recorded_at: now,
    recorded_by_id: ids.technician,
    ...change,
  });
}

export function partUseRow(job: Job, change: Row = {}): Statement {
  return insert('part_use', {
    id: id(1_201),
    visit_id: job.visit,
    quote_id: job.quote,
    finding_id: job.part,
    part_code: 'CAP-45-5-440',
    quantity: change['measured'] === undefined ? 1 : null,
    old_part: 'given_to_customer',
    recorded_at: now,
    recorded_by_id: ids.technician,
    ...change,
  });
}

export function partLeftOverRow(job: Job, change: Row = {}): Statement {
  return insert('part_left_over', {
    id: id(1_208),
    visit_id: job.visit,
    quote_id: job.quote,
    finding_id: job.part,
    part_code: 'CAP-45-5-440',
    quantity: change['measured'] === undefined ? 1 : null,
    reason: 'One was enough.',
    recorded_at: now,
    recorded_by_id: ids.technician,
    ...change,
  });
}

export function refrigerantRow(job: Job, change: Row = {}): Statement {
  return insert('refrigerant_move', {
    id: id(1_202),
    visit_id: job.visit,
    equipment_id: ids.equipment,
    refrigerant: 'R-410A',
    direction: 'charged',
    cylinder: 'C-7',
    before_oz: 320,
    after_oz: 300,
    certificate_type: 'universal',
    certificate_number: 'U-1',
    moved_at: now,
    recorded_at: now,
    recorded_by_id: ids.technician,
    ...change,
  });
}

export function partWaitRow(job: Job, change: Row = {}): Statement {
  return insert('part_wait', {
    id: id(1_203),
    ticket_id: job.ticket,
    visit_id: job.visit,
    waiting_for: 'A blower motor.',
    promised_on: '2026-07-20',
    told_to: 'Winifred Ashgrove',
    recorded_at: now,
    recorded_by_id: ids.technician,
    ...change,
  });
}

/** Both findings of a job, done; or with another outcome for the labor. */
export function doneRows(job: Job, labor: Row = {}): Statement[] {
  return [outcomeRow(job, { finding_id: job.part }), outcomeRow(job, labor)];
}

export function ticketIs(job: Job, state: string): Statement {
  return sql('UPDATE ticket SET state = $2::ticket_state, version = version + 1 WHERE id = $1', [
    job.ticket,
    state,
  ]);
}

export function closingRow(job: Job, change: Row = {}): Statement {
  return insert('ticket_closing', {
    id: job.closing,
    ticket_id: job.ticket,
    sequence: 1,
    complaint_gone: 'yes',
    condition_left: 'It cools.',
    closed_at: now,
    closed_by_id: ids.technician,
    ...change,
  });
}

/** Closes a job as the program does: the record, the step, and the draft of the invoice. */
export function closedRows(job: Job): Statement[] {
  return [ticketIs(job, 'work_complete'), closingRow(job), ticketIs(job, 'closed')];
}

/** A job that is agreed, worked, closed and has its invoice in draft. */
export function closedWith(job: Job, labor: Row = {}, visit: Row = {}): Statement[] {
  return [
    ...agreedRows(job, visit),
    ...doneRows(job, labor),
    ...closedRows(job),
    ...invoiceRows(job),
  ];
}

export function uncuredRow(job: Job, change: Row = {}): Statement {
  return insert('closing_uncured', { closing_id: job.closing, finding_id: job.part, ...change });
}

export function callbackRow(job: Job, change: Row = {}): Statement {
  return insert('ticket_callback', {
    id: id(1_204),
    ticket_id: job.ticket,
    closing_id: job.closing,
    complaint: 'It blows warm air again.',
    reopened_at: '2026-07-20T15:00:00Z',
    reopened_by_id: ids.owner,
    ...change,
  });
}

/** Strikes out the use of a part. */
export function strikeRow(change: Row = {}): Statement {
  return insert('work_strike', {
    id: id(1_210),
    part_use_id: id(1_201),
    reason: 'Of another machine.',
    struck_at: now,
    struck_by_id: ids.technician,
    ...change,
  });
}

export function claimRow(change: Row = {}): Statement {
  return insert('warranty_claim', {
    id: id(1_205),
    part_use_id: id(1_201),
    opened_at: now,
    opened_by_id: ids.owner,
    ...change,
  });
}

export function claimStateRow(change: Row = {}): Statement {
  return insert('warranty_claim_state', { claim_id: id(1_205), changed_at: now, ...change });
}

export function claimStepRow(change: Row = {}): Statement {
  return insert('warranty_claim_step', {
    claim_id: id(1_205),
    step: 'sent',
    ...(change['step'] === undefined ? { registration: 'R-1', old_part: 'returned' } : {}),
    happened_on: '2026-07-15',
    recorded_at: now,
    recorded_by_id: ids.owner,
    ...change,
  });
}

export function claimIs(claim: string, state: string): Statement {
  return sql(
    `UPDATE warranty_claim_state SET state = $2, version = version + 1, changed_at = now()
     WHERE claim_id = $1`,
    [claim, state],
  );
}

// ------------------------------------------------------------ links and follow-ups

export function linkRow(number: number, change: Row = {}): Statement {
  return insert('quote_link', {
    id: id(1_206),
    quote_id: id(number),
    token_hash: Buffer.alloc(32, 7),
    holder: 'approver',
    holder_id: ids.customer,
    created_at: '2026-07-15T19:11:00Z',
    created_by_id: ids.technician,
    expires_at: '2026-08-14T19:11:00Z',
    ...change,
  });
}

export function followUpRow(number: number, change: Row = {}): Statement {
  return insert('quote_follow_up', {
    quote_id: id(number),
    revision: 1,
    step: 2,
    way: 'call',
    followed_at: now,
    recorded_by_id: ids.owner,
    ...change,
  });
}

export function cancellationRow(job: Job, change: Row = {}): Statement {
  return insert('acceptance_cancellation', {
    quote_id: job.quote,
    cancelled_by_name: 'Winifred Ashgrove',
    notice_text: 'I cancel.',
    cancelled_at: '2026-07-16T15:00:00Z',
    recorded_by_id: ids.owner,
    ...change,
  });
}

export function consumerRuleRow(change: Row = {}): Statement {
  return insert('consumer_rule', {
    id: id(1_207),
    jurisdiction: 'QX',
    code: 'three_days',
    effective_from: '2027-01-01',
    content: '{}',
    created_at: now,
    created_by_id: ids.owner,
    ...change,
  });
}

// ------------------------------------------------------------ the invoice

export function invoiceRows(job: Job, change: Row = {}): Statement[] {
  const invoice: Row = {
    id: job.invoice,
    ticket_id: job.ticket,
    closing_id: job.closing,
    payer_id: ids.customer,
    created_at: now,
    created_by_id: ids.technician,
    ...change,
  };
  return [
    insert('invoice', invoice),
    insert('invoice_state', { invoice_id: invoice['id'], changed_at: now }),
  ];
}

/** A document to be billed. Counts, sums and positions are right unless a change says otherwise. */
export interface DocumentDraft {
  says?: Row;
  lines: Row[];
}

/** The accepted quote of a job as its lines have it, or with other lines. */
export function acceptedDocument(job: Job, lines = billedLines(agreedLines(job))): DocumentDraft {
  return { says: { quote_id: job.quote, option_id: optionId(job.number) }, lines };
}

/** Lines of a yes, as an invoice has them. */
export function billedLines(lines: Row[]): Row[] {
  return lines.map(({ key, kind, price_class, aimed_at = null, amount_cents = 0 }) => ({
    ...{ key, kind, aimed_at, amount_cents },
    price_class: price_class ?? (kind === 'part' ? 'part' : 'labor'),
  }));
}

/** What is taken off for the labor of a job. */
export function undoneDocument(job: Job, lines: Row[] = undoneLabor): DocumentDraft {
  return { says: { kind: 'work_not_done', undone_quote_id: job.quote }, lines };
}

export const undoneLabor: Row[] = [
  { key: 'undone:labor', kind: 'labor', amount_cents: -4_000 },
  { key: 'undone:tax', kind: 'tax', price_class: 'tax', amount_cents: -320 },
];

/** The fee of a trip by itself. */
export function feeDocument(visit: string, lines: Row[] = feeLines): DocumentDraft {
  return { says: { kind: 'visit_fee', visit_id: visit, inputs: '{}' }, lines };
}

export const feeLines: Row[] = [
  { key: 'fee', kind: 'visit_fee', price_class: 'visit_fee', amount_cents: 8_900 },
];

export function invoiceLineRow(job: Job, change: Row): Statement {
  return insert('invoice_line', {
    invoice_id: job.invoice,
    document: 1,
    key: `line-${String(change['position'])}`,
    kind: 'labor',
    price_class: change['kind'] ?? 'labor',
    description: 'Replace the capacitor',
    amount_cents: 0,
    ...change,
  });
}

export function documentRowOf(job: Job, { says = {}, lines }: DocumentDraft, position: number) {
  return insert('invoice_document', {
    invoice_id: job.invoice,
    position,
    kind: 'accepted',
    ruleset_version: 'pricing-1',
    line_count: lines.length,
    tax_cents: totalOf(lines.filter(({ kind }) => kind === 'tax')),
    total_cents: totalOf(lines),
    ...says,
  });
}

/** Documents with their lines. */
export function documentRows(job: Job, documents: DocumentDraft[]): Statement[] {
  return documents.flatMap((document, at) => [
    documentRowOf(job, document, at + 1),
    ...document.lines.map((line, lineAt) =>
      invoiceLineRow(job, { document: at + 1, position: lineAt + 1, ...line }),
    ),
  ]);
}

export function issueInvoiceRow(job: Job, documents: DocumentDraft[], change: Row = {}): Statement {
  const lines = documents.flatMap((document) => document.lines);
  return insert('invoice_issue', {
    invoice_id: job.invoice,
    number: 3,
    issued_at: now,
    issued_by_id: ids.owner,
    due_on: '2026-07-15',
    document_count: documents.length,
    tax_cents: totalOf(lines.filter(({ kind }) => kind === 'tax')),
    total_cents: totalOf(lines),
    content_hash: sha256Of(paperText),
    paper: paperText,
    ...change,
  });
}

export function invoiceIs(job: Job, state: string): Statement {
  return sql(
    `UPDATE invoice_state SET state = $2::invoice_state_name, version = version + 1,
       changed_at = now() WHERE invoice_id = $1`,
    [job.invoice, state],
  );
}

/** Issues a draft: the paper, its documents, and the step. */
export function billedRows(
  job: Job,
  documents: DocumentDraft[] = [acceptedDocument(job)],
  says: Row = {},
): Statement[] {
  const total = totalOf(documents.flatMap(({ lines }) => lines));
  return [
    issueInvoiceRow(job, documents, says),
    ...documentRows(job, documents),
    invoiceIs(job, total === 0 ? 'settled' : 'issued'),
  ];
}

// ------------------------------------------------------------ money

export function paymentRow(job: Job, change: Row = {}): Statement {
  return insert('payment', {
    id: id(1_210),
    invoice_id: job.invoice,
    method: 'check',
    reference: '1042',
    amount_cents: 5_000,
    received_at: now,
    recorded_at: now,
    recorded_by_id: ids.technician,
    ...change,
  });
}

export function voidRow(change: Row = {}): Statement {
  return insert('payment_void', {
    payment_id: id(1_210),
    reason: 'The check bounced.',
    voided_at: now,
    recorded_by_id: ids.owner,
    ...change,
  });
}

export function refundRow(job: Job, change: Row = {}): Statement {
  return insert('refund', {
    id: id(1_211),
    invoice_id: job.invoice,
    method: 'cash',
    amount_cents: 540,
    paid_at: now,
    recorded_at: now,
    recorded_by_id: ids.owner,
    ...change,
  });
}

/** Half a dollar of the labor and its tax, unless lines or changes say otherwise. */
export function memoRows(job: Job, change: Row = {}, lines: Row[] = creditedLabor): Statement[] {
  const memo = change['id'] ?? id(1_212);
  return [
    insert('credit_memo', {
      id: memo,
      number: 2,
      invoice_id: job.invoice,
      kind: 'goodwill',
      reason: 'We came late.',
      line_count: lines.length,
      tax_cents: totalOf(lines.filter(({ price_class }) => price_class === 'tax')),
      total_cents: totalOf(lines),
      issued_at: now,
      issued_by_id: ids.owner,
      content_hash: sha256Of(paperText),
      paper: paperText,
      ...change,
    }),
    ...lines.map((line, at) => memoLineRow({ memo_id: memo, position: at + 1, ...line })),
  ];
}

export const creditedLabor: Row[] = [
  { key: 'labor', amount_cents: 500 },
  { key: 'tax', price_class: 'tax', amount_cents: 40 },
];

export function memoLineRow(change: Row = {}): Statement {
  return insert('credit_memo_line', {
    memo_id: id(1_212),
    position: 3,
    document: 1,
    key: 'part',
    price_class: change['key'] === 'part' ? 'part' : 'labor',
    description: 'Replace the capacitor',
    amount_cents: 100,
    ...change,
  });
}

/** What the settled job of the stock has. */
export const settled = {
  partUse: id(1_301),
  claim: id(1_302),
  payment: id(1_303),
  bounced: id(1_304),
  memo: id(1_305),
  link: id(1_306),
  rule: id(1_307),
} as const;

/** What was done before is looked at as by a commit. */
export const committed: Statement[] = [
  sql('SET CONSTRAINTS ALL IMMEDIATE'),
  sql('SET CONSTRAINTS ALL DEFERRED'),
];

/** Jobs from the yes to the money, so that each guard has something to guard. */
export function lifeRows(): Statement[] {
  const { agreed, closed, owed, settled: done, cancelled } = jobs;
  const finished = [closed, owed, done];
  return [
    ...agreedRows(agreed, { state: 'on_site' }),
    ...agreedRows(cancelled),
    cancellationRow(cancelled),
    ...finished.flatMap((job) => [...agreedRows(job), ...doneRows(job)]),
    partUseRow(done, { id: settled.partUse, part_code: 'FUSE-3', old_part: 'kept_for_claim' }),
    partLeftOverRow(done, { id: id(1_312) }),
    refrigerantRow(done, { id: id(1_308) }),
    strikeRow({ id: id(1_314), part_use_id: null, part_left_over_id: id(1_312) }),
    partWaitRow(done, { id: id(1_309) }),
    ...finished.flatMap((job) => [...closedRows(job), ...invoiceRows(job)]),
    ...billedRows(done, [acceptedDocument(done)], { number: 1 }),
    ...billedRows(owed, [acceptedDocument(owed)], { number: 2 }),
    paymentRow(done, { id: settled.bounced, amount_cents: 800 }),
    voidRow({ payment_id: settled.bounced }),
    paymentRow(done, { id: settled.payment, amount_cents: 10_800 }),
    ...memoRows(done, { id: settled.memo, number: 1 }),
    refundRow(done, { id: id(1_310) }),
    invoiceIs(done, 'settled'),
    ...committed,
    uncuredRow(done),
    callbackRow(done, { id: id(1_311) }),
    ticketIs(done, 'new'),
    claimRow({ id: settled.claim, part_use_id: settled.partUse }),
    claimStateRow({ claim_id: settled.claim }),
    claimStepRow({ claim_id: settled.claim }),
    claimIs(settled.claim, 'sent'),
    consumerRuleRow({
      ...{ id: settled.rule, effective_from: '2026-01-01', effective_to: '2027-01-01' },
    }),
  ];
}

function totalOf(lines: readonly Row[]): number {
  return lines.reduce((sum, line) => sum + Number(line['amount_cents'] ?? 0), 0);
}
