import { createHash } from 'node:crypto';

/** One statement of plain SQL with its values. */
export interface Statement {
  text: string;
  values: unknown[];
}

/** Columns by name; JSON is given as its text. */
export type Row = Record<string, unknown>;

/** A statement without values, or with the ones given. */
export function sql(text: string, values: unknown[] = []): Statement {
  return { text, values };
}

/** A readable identifier: the same number is the same row. */
export function id(number: number): string {
  return `00000000-0000-7000-8000-${String(number).padStart(12, '0')}`;
}

/** An INSERT of one row. */
export function insert(table: string, row: Row): Statement {
  const columns = Object.keys(row);
  const places = columns.map((_, at) => `$${at + 1}`);
  return {
    text: `INSERT INTO ${table} (${columns.join(', ')}) VALUES (${places.join(', ')})`,
    values: Object.values(row),
  };
}

export function sha256Of(content: string): string {
  return createHash('sha256').update(content).digest('hex');
}

/** The rows every job stands on; the stock of a test database has them all. */
export const ids = {
  owner: id(1),
  technician: id(2),
  otherTechnician: id(3),
  customer: id(10),
  site: id(11),
  system: id(12),
  equipment: id(13),
  book: id(20),
  ticket: id(30),
  otherTicket: id(31),
  visit: id(40),
  otherVisit: id(41),
  reading: id(50),
  observation: id(51),
  proven: id(60),
  unproven: id(61),
  overridden: id(62),
  reset: id(63),
  ofOtherVisit: id(64),
  entry: id(70),
  waitingEntry: id(71),
  agreement: id(90),
  openDraft: id(91),
  publishedDraft: id(92),
  droppedDraft: id(93),
  nobody: id(999),
} as const;

const now = '2026-07-15T19:00:00Z';

export function staffRow(change: Row = {}): Statement {
  return insert('staff', {
    id: id(9),
    name: 'Ada',
    role: 'technician',
    created_at: now,
    ...change,
  });
}

export function customerRow(change: Row = {}): Statement {
  return insert('customer', {
    id: id(19),
    name: 'Winifred Ashgrove',
    phone: '555-0111',
    journal_salt: Buffer.alloc(16),
    created_at: now,
    ...change,
  });
}

export function siteRow(change: Row = {}): Statement {
  return insert('site', {
    id: id(18),
    street: '3 Thistle Court',
    city: 'Wrenfield',
    region: 'QX',
    postal_code: '00000',
    jurisdiction: 'QX',
    occupant_id: ids.customer,
    approver_id: ids.customer,
    payer_id: ids.customer,
    created_at: now,
    ...change,
  });
}

export function ticketRow(change: Row = {}): Statement {
  return insert('ticket', {
    id: id(39),
    site_id: ids.site,
    caller_id: ids.customer,
    complaint: 'It blows warm air.',
    symptoms: ['no_cooling'],
    created_at: now,
    created_by_id: ids.owner,
    ...change,
  });
}

export function visitRow(change: Row = {}): Statement {
  return insert('visit', {
    id: id(49),
    ticket_id: ids.ticket,
    technician_id: ids.technician,
    window_start: '2026-07-16T18:00:00Z',
    window_end: '2026-07-16T20:00:00Z',
    period_code: 'regular',
    fee_cents: 8_900,
    fee_agreed_by: 'Winifred Ashgrove',
    fee_agreed_at: now,
    price_book_version_id: ids.book,
    created_at: now,
    ...change,
  });
}

export function readingRow(change: Row = {}): Statement {
  return insert('reading', {
    id: id(59),
    visit_id: ids.visit,
    equipment_id: ids.equipment,
    quantity: 'voltage',
    point: 'line_l1_l2',
    value: 239.5,
    unit: 'V',
    method: 'clamp_meter',
    source: 'measured',
    phase: 'found',
    taken_at: now,
    recorded_at: now,
    recorded_by_id: ids.technician,
    ...change,
  });
}

export function photoRow(change: Row = {}): Statement {
  return insert('visit_photo', {
    visit_id: ids.visit,
    sha256: sha256Of('a paper'),
    shows: 'other',
    recorded_at: now,
    recorded_by_id: ids.technician,
    ...change,
  });
}

export function observationRow(change: Row = {}): Statement {
  return insert('observation', {
    id: id(58),
    ticket_id: ids.ticket,
    visit_id: ids.visit,
    equipment_id: ids.equipment,
    code: 'capacitor_bulged',
    answer: 'yes',
    source: 'observed',
    phase: 'found',
    observed_at: now,
    recorded_at: now,
    recorded_by_id: ids.technician,
    ...change,
  });
}

export function findingRow(change: Row = {}): Statement {
  return insert('finding', {
    id: id(69),
    visit_id: ids.visit,
    equipment_id: ids.equipment,
    fault_code: 'run_capacitor_herm',
    task_code: 'replace_dual_run_capacitor',
    remedy_class: 'replace',
    standing: 'proven',
    priceable: true,
    verdict: '{}',
    evidence: '{}',
    ruleset_version: 'evidence-1',
    found_at: now,
    recorded_by_id: ids.technician,
    ...change,
  });
}

export function findingPartRow(change: Row = {}): Statement {
  return insert('finding_part', {
    finding_id: ids.proven,
    part_code: 'CAP-45-5-440',
    quantity: 1,
    ...change,
  });
}

export function findingOverrideRow(change: Row = {}): Statement {
  return insert('finding_override', {
    finding_id: ids.unproven,
    reason: 'Seen by the owner on site.',
    granted_by_id: ids.owner,
    granted_at: now,
    ...change,
  });
}

export function bookRow(change: Row = {}): Statement {
  return insert('price_book_version', {
    id: id(29),
    number: 2,
    effective_from: now,
    rates: '{}',
    tiers: '[]',
    policy: '{}',
    periods: '[]',
    published_at: now,
    published_by_id: ids.owner,
    ...change,
  });
}

export function bookTaskRow(change: Row = {}): Statement {
  return insert('price_book_task', {
    version_id: ids.book,
    code: 'clear_drain',
    name: 'Clear the drain',
    minutes: 45,
    access_group: 'air_handler',
    access_minutes: 20,
    ...change,
  });
}

export function bookPartRow(change: Row = {}): Statement {
  return insert('price_book_part', {
    version_id: ids.book,
    code: 'FUSE-3',
    category: 'fuse',
    name: 'Fuse 3 A',
    cost_cents: 150,
    specs: '{}',
    ...change,
  });
}

export function bookDraftRow(change: Row = {}): Statement {
  return insert('price_book_draft', {
    id: id(94),
    note: 'The next book.',
    content: '{}',
    created_at: now,
    created_by_id: ids.owner,
    updated_at: now,
    ...change,
  });
}

/** The year after the agreement of the stock unless a change says otherwise. */
export function agreementRow(change: Row = {}): Statement {
  return insert('site_agreement', {
    id: id(95),
    site_id: ids.site,
    plan_code: 'comfort',
    plan: JSON.stringify({
      code: change['plan_code'] ?? 'comfort',
      name: 'Comfort',
      discounts: {},
    }),
    starts_on: '2027-01-01',
    ends_on: '2028-01-01',
    agreed_by_name: 'Winifred Ashgrove',
    created_at: now,
    created_by_id: ids.owner,
    ...change,
  });
}

export function taxRuleRow(change: Row = {}): Statement {
  return insert('tax_rule', {
    id: id(99),
    jurisdiction: 'QX',
    name: 'Sales tax',
    rate: '0.0825',
    taxable_classes: ['part'],
    mode: 'separated',
    basis: 'invoice',
    effective_from: '2027-01-01',
    effective_to: '2028-01-01',
    ...change,
  });
}

export function documentRow(change: Row = {}): Statement {
  const bytes = Buffer.from('another paper');
  return insert('document', {
    sha256: sha256Of('another paper'),
    kind: 'quote',
    language: 'en',
    renderer: 'paper-1',
    media_type: 'application/pdf',
    bytes,
    created_at: now,
    ...change,
  });
}

export function entryRow(change: Row = {}): Statement {
  return insert('journal_entry', {
    id: id(79),
    at: now,
    actor_kind: 'system',
    event: 'ticket.opened',
    subject_kind: 'ticket',
    subject_id: ids.ticket,
    changes: '{}',
    ...change,
  });
}

export function sealRow(change: Row = {}): Statement {
  return insert('journal_seal', {
    position: 2,
    entry_id: ids.waitingEntry,
    hash: sha256Of('the second seal'),
    ...change,
  });
}

export function companyRow(change: Row = {}): Statement {
  return insert('company', {
    id: 1,
    name: 'Juniper Lane Home Comfort',
    street: '1 Juniper Lane',
    city: 'Wrenfield',
    region: 'QX',
    postal_code: '00000',
    phone: '555-0100',
    email: 'office@example.com',
    license_number: 'QX-0001',
    regulator: 'Board of Wrenfield',
    time_zone: 'America/Chicago',
    default_jurisdiction: 'QX',
    ...change,
  });
}
