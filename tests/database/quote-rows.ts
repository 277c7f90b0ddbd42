import { id, ids, insert, type Row, type Statement, sha256Of, sql } from './rows.ts';

const issuedAt = '2026-07-15T19:10:00Z';

/** When quotes of the stock stop being valid. */
export const validUntil = '2026-08-15T05:00:00Z';

/** The text a quote says, and so what its content hash is of. */
export const paperText = '{"total":"one hundred and eight dollars"}';

/** A quote to be inserted. Counts and sums are right unless a change says otherwise. */
export interface QuoteDraft {
  /** The quote has this number; revision, options and lines derive theirs from it. */
  number: number;
  revision?: number;
  quote?: Row;
  /** Changes to the revision's row. */
  says?: Row;
  options?: OptionDraft[];
}

export interface OptionDraft {
  /** Changes to the option's row. */
  says?: Row;
  /** Changes to each line's row; a part at 100.00 with 8.00 tax unless given. */
  lines?: Row[];
}

/** A part of a hundred dollars with its tax. */
export const soundLines: Row[] = [
  { key: 'part', kind: 'part', amount_cents: 10_000, quantity: 1, unit_price_cents: 10_000 },
  { key: 'tax', kind: 'tax', price_class: 'tax', amount_cents: 800, finding_ids: [] },
];

/** Identifier of a quote's option: of its first revision and first option unless given. */
export function optionId(number: number, revision = 1, position = 1): string {
  return id(10_000 * number + 100 * revision + position);
}

/** A quote with its first revision, as a draft. */
export function draftRows(draft: QuoteDraft): Statement[] {
  return [quoteRow(draft), ...revisionRows(draft)];
}

export function quoteRow({ number, quote = {} }: QuoteDraft): Statement {
  return insert('quote', {
    id: id(number),
    ticket_id: ids.ticket,
    visit_id: ids.visit,
    created_at: issuedAt,
    created_by_id: ids.technician,
    ...quote,
  });
}

/** A revision of a quote that is there, with options, lines and its state. */
export function revisionRows(draft: QuoteDraft): Statement[] {
  const { number, revision = 1, says = {}, options = [{}] } = draft;
  return [
    insert('quote_revision', {
      id: revisionId(number, revision),
      quote_id: id(number),
      number: revision,
      inputs: '{}',
      ruleset_version: 'pricing-1',
      price_book_version_id: ids.book,
      labor_rate_cents: 15_000,
      decline_total_cents: 8_900,
      option_count: options.length,
      created_at: issuedAt,
      created_by_id: ids.technician,
      ...says,
    }),
    ...options.flatMap((option, at) => optionRows(draft, option, at + 1)),
    insert('quote_state', { quote_id: id(number), revision, changed_at: issuedAt }),
  ];
}

/** One option with its lines. */
export function optionRows(
  { number, revision = 1 }: QuoteDraft,
  { says = {}, lines = soundLines }: OptionDraft,
  position: number,
): Statement[] {
  const option = optionId(number, revision, position);
  const taxes = lines.filter(({ kind }) => kind === 'tax');
  return [
    insert('quote_option', {
      id: option,
      revision_id: revisionId(number, revision),
      position,
      title: 'Repair',
      line_count: lines.length,
      tax_cents: sumOf(taxes),
      total_cents: sumOf(lines),
      ...says,
    }),
    ...lines.map((line, at) => lineRow({ option_id: option, position: at + 1, ...line })),
  ];
}

/** One line; on its own it slips into an option that is there. */
export function lineRow(change: Row): Statement {
  return insert('quote_line', {
    key: `line-${String(change['position'])}`,
    kind: 'labor',
    price_class: change['kind'] === 'part' ? 'part' : 'labor',
    code: 'replace_dual_run_capacitor',
    description: 'Replace the capacitor',
    finding_ids: [ids.proven],
    amount_cents: 0,
    why: '{}',
    ...change,
  });
}

export function issueRow(number: number, change: Row = {}): Statement {
  return insert('quote_issue', {
    quote_id: id(number),
    revision: 1,
    issued_at: issuedAt,
    issued_by_id: ids.technician,
    valid_until: validUntil,
    content_hash: sha256Of(paperText),
    paper: paperText,
    ...change,
  });
}

/** The written yes to the first option of the first revision. */
export function acceptanceRow(number: number, change: Row = {}): Statement {
  return insert('quote_acceptance', {
    quote_id: id(number),
    revision: 1,
    option_id: optionId(number),
    total_cents: 10_800,
    content_hash: sha256Of(paperText),
    accepted_by_name: 'Winifred Ashgrove',
    consent_text: 'I accept this option at this total.',
    accepted_at: '2026-07-15T19:20:00Z',
    recorded_by_id: ids.technician,
    ...change,
  });
}

export function declineRow(number: number, change: Row = {}): Statement {
  return insert('quote_decline', {
    quote_id: id(number),
    revision: 1,
    declined_by_name: 'Winifred Ashgrove',
    condition_left: 'The system is off at its disconnect.',
    declined_at: '2026-07-15T19:20:00Z',
    recorded_by_id: ids.technician,
    ...change,
  });
}

/** How the system was left, said after a no that did not say it. */
export function declineNoteRow(number: number, change: Row = {}): Statement {
  return insert('quote_decline_note', {
    quote_id: id(number),
    condition_left: 'Off at the thermostat.',
    danger_warned: 'The disconnect is warm.',
    noted_at: '2026-07-15T20:00:00Z',
    noted_by_id: ids.technician,
    ...change,
  });
}

/** The owner's word on the first revision. */
export function confirmationRow(number: number, change: Row = {}): Statement {
  return insert('quote_confirmation', {
    quote_id: id(number),
    revision: 1,
    kind: 'refrigerant_rules',
    statement: 'The rules for this refrigerant were read and are kept.',
    confirmed_at: issuedAt,
    confirmed_by_id: ids.owner,
    ...change,
  });
}

/** Takes a revision to another state, as the program does. */
export function moveTo(number: number, state: string, revision = 1): Statement {
  return sql(
    `UPDATE quote_state SET state = $3::quote_state_name, version = version + 1, changed_at = now()
     WHERE quote_id = $1 AND revision = $2`,
    [id(number), revision, state],
  );
}

/** Issues the revision: the paper and the step. */
export function issued(number: number, revision = 1): Statement[] {
  return [issueRow(number, { revision }), moveTo(number, 'issued', revision)];
}

/** Accepts the first revision: the yes and the step. */
export function accepted(number: number, change: Row = {}): Statement[] {
  return [acceptanceRow(number, change), moveTo(number, 'accepted')];
}

/** Declines the first revision: the no and the step. */
export function declined(number: number): Statement[] {
  return [declineRow(number), moveTo(number, 'declined')];
}

export function revisionId(number: number, revision = 1): string {
  return id(10_000 * number + 100 * revision);
}

function sumOf(lines: readonly Row[]): number {
  return lines.reduce((sum, line) => sum + Number(line['amount_cents'] ?? 0), 0);
}
