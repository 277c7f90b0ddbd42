import { check, exclusion, foreignKey, type GuardCase, restrict } from '../guard-case.ts';
import {
  bookPartRow,
  bookRow,
  bookTaskRow,
  companyRow,
  documentRow,
  findingOverrideRow,
  findingPartRow,
  findingRow,
  id,
  ids,
  observationRow,
  photoRow,
  type Row,
  readingRow,
  type Statement,
  sha256Of,
  siteRow,
  sql,
  taxRuleRow,
  ticketRow,
  visitRow,
} from '../rows.ts';

/** Figures of a nameplate that verdicts reckon with. */
const positivePlateFigures = [
  'transformer_va',
  'capacitor_blower_uf',
  'start_capacitor_uf_min',
  'start_capacitor_uf_max',
  'external_static_max_in_wc',
  'target_subcooling_deg_f',
  'seer',
  'line_set_oz_per_ft',
  'heat_input_btuh',
  'heat_efficiency_percent',
  'heat_kw',
  'sensor_ohms_at77_f',
  'sensor_beta_k',
] as const;

/** Guards of what is recorded before there is a quote. */
export const recordCases: GuardCase[] = [
  {
    title: 'there is one company; it may be changed',
    guard: 'company_single_row',
    sqlState: check,
    breaks: [companyRow({ id: 2 })],
    allows: [[sql(`UPDATE company SET name = 'Juniper Lane Comfort'`)]],
  },
  {
    title: 'an approver’s limit is not negative; it may be zero or unknown',
    guard: 'site_approver_limit_positive',
    sqlState: check,
    breaks: [siteRow({ approver_limit_cents: -1 })],
    allows: [[siteRow({ approver_limit_cents: 0 })], [siteRow({ approver_limit_cents: null })]],
  },
  {
    title: 'a site lies where people live, from below the sea to high mountains, or nobody knows',
    guard: 'site_altitude_inhabited',
    sqlState: check,
    breaks: [siteRow({ altitude_ft: 14_001 })],
    allows: [-300, 0, 14_000, null].map((altitude_ft) => [siteRow({ altitude_ft })]),
  },
  {
    title: 'a site lies no deeper than land does',
    guard: 'site_altitude_inhabited',
    sqlState: check,
    breaks: [siteRow({ altitude_ft: -301 })],
    allows: [],
  },
  ...positivePlateFigures.map((figure) => ({
    title: `${figure} of a nameplate is above zero or unknown`,
    guard: 'equipment_evidence_figures_positive',
    sqlState: check,
    breaks: [plateWith(figure, 0)],
    allows: [[plateWith(figure, 0.01)], [plateWith(figure, null)]],
  })),
  {
    title: 'a factory charge is made for a line set of some length or none',
    guard: 'equipment_evidence_figures_positive',
    sqlState: check,
    breaks: [plateWith('line_set_included_ft', -0.01)],
    allows: [[plateWith('line_set_included_ft', 0)], [plateWith('line_set_included_ft', null)]],
  },
  {
    title: 'an arrival window has a length; a minute will do',
    guard: 'visit_window_forward',
    sqlState: check,
    breaks: [visitRow({ window_end: '2026-07-16T18:00:00Z' })],
    allows: [[visitRow({ window_end: '2026-07-16T18:01:00Z' })]],
  },
  {
    title: 'a visit fee is not negative; a free visit is fine',
    guard: 'visit_fee_not_negative',
    sqlState: check,
    breaks: [visitRow({ fee_cents: -1 })],
    allows: [[visitRow({ fee_cents: 0 })]],
  },
  {
    title: 'why a visit came to nothing is said of one that did, and of no other',
    guard: 'visit_end_note_of_its_end',
    sqlState: check,
    breaks: [visitRow({ state: 'on_the_way', end_note: 'Nobody was home.' })],
    allows: [
      [visitRow({ state: 'no_access', end_note: 'Nobody was home.' })],
      [visitRow({ state: 'cancelled', end_note: 'It cools again.' })],
    ],
  },
  {
    title:
      'a technician is not booked into overlapping windows; touching ones, another technician and windows of ended visits are fine',
    guard: 'visit_one_live_work_per_technician',
    behind: ['visit_no_access_nothing_seen'],
    sqlState: exclusion,
    breaks: [window('2026-07-15T19:59:00Z', '2026-07-15T22:00:00Z')],
    allows: [
      [window('2026-07-15T20:00:00Z', '2026-07-15T22:00:00Z')],
      [window('2026-07-15T16:00:00Z', '2026-07-15T18:00:00Z')],
      [window('2026-07-15T18:00:00Z', '2026-07-15T20:00:00Z', ids.otherTechnician)],
      ...['cancelled', 'no_access', 'finished'].map((state) => [
        sql('UPDATE visit SET state = $2::visit_state WHERE id = $1', [ids.visit, state]),
        window('2026-07-15T18:00:00Z', '2026-07-15T20:00:00Z'),
      ]),
    ],
  },
  {
    title: 'a cancelled visit does not come back over a window given away meanwhile',
    guard: 'visit_one_live_work_per_technician',
    sqlState: exclusion,
    breaks: [
      sql(`UPDATE visit SET state = 'cancelled' WHERE id = $1`, [ids.visit]),
      window('2026-07-15T18:00:00Z', '2026-07-15T20:00:00Z'),
      sql(`UPDATE visit SET state = 'booked' WHERE id = $1`, [ids.visit]),
    ],
    allows: [
      [
        sql(`UPDATE visit SET state = 'cancelled' WHERE id = $1`, [ids.visit]),
        sql(`UPDATE visit SET state = 'booked' WHERE id = $1`, [ids.visit]),
      ],
    ],
  },
  {
    title: 'a visit on the way holds its window as well',
    guard: 'visit_one_live_work_per_technician',
    sqlState: exclusion,
    breaks: [
      sql(`UPDATE visit SET state = 'on_the_way' WHERE id = $1`, [ids.visit]),
      window('2026-07-15T17:00:00Z', '2026-07-15T18:00:01Z'),
    ],
    allows: [[window('2026-07-15T17:00:00Z', '2026-07-15T18:00:00Z')]],
  },
  word('a reading’s source is one we know', 'reading_source_known', readingRow, {
    source: ['claimed', 'reported'],
  }),
  word('a reading is of the system as found or as left', 'reading_phase_known', readingRow, {
    phase: ['between', 'left'],
  }),
  ...['NaN', 'Infinity', '-Infinity'].map((value) => ({
    title: `a reading is never ${value}; a small or negative one is fine`,
    guard: 'reading_value_finite',
    sqlState: check,
    breaks: [readingRow({ value })],
    allows: [[readingRow({ value: -40 })], [readingRow({ value: 1e-9 })]],
  })),
  ...[{ shown_value: 21 }, { shown_unit: 'Cel' }].map((half) => ({
    title: `what the gauge showed has its figure and its unit; ${Object.keys(half)} alone is neither`,
    guard: 'reading_shown_whole',
    sqlState: check,
    breaks: [readingRow(half)],
    allows: [
      [readingRow({ shown_value: 21, shown_unit: 'Cel' })],
      [readingRow({ shown_value: null, shown_unit: null })],
    ],
  })),
  ...['NaN', 'Infinity', '-Infinity'].map((shown_value) => ({
    title: `no gauge shows ${shown_value}; a negative figure is fine`,
    guard: 'reading_shown_finite',
    sqlState: check,
    breaks: [readingRow({ shown_value, shown_unit: 'Cel' })],
    allows: [[readingRow({ shown_value: -40, shown_unit: 'Cel' })]],
  })),
  word(
    'an observation is yes, no or unknown',
    'observation_answer_known',
    (row) => observationRow(row),
    { answer: ['maybe', 'unknown'] },
  ),
  word('an observation’s source is one we know', 'observation_source_known', observationRow, {
    source: ['measured', 'reported'],
  }),
  word('an observation is as found or as left', 'observation_phase_known', observationRow, {
    phase: ['between', 'left'],
  }),
  {
    title: 'a visit whose technician is there has the time of the arrival; others need none',
    guard: 'visit_on_site_has_arrived',
    sqlState: check,
    breaks: [visitRow({ state: 'on_site' })],
    allows: [
      [visitRow({ state: 'on_the_way' })],
      [visitRow({ state: 'finished', arrived_at: '2026-07-16T18:10:00Z' })],
    ],
  },
  {
    title: 'an observation names a photo that is stored for its visit; none is fine',
    guard: 'observation_photo_of_the_visit',
    sqlState: foreignKey,
    breaks: [observationRow({ photo_sha256: sha256Of('another photo') })],
    allows: [
      [observationRow({ photo_sha256: sha256Of('a photo') })],
      [observationRow({ photo_sha256: null })],
    ],
  },
  {
    title: 'an observation names no photo of another visit, until it is one of its own too',
    guard: 'observation_photo_of_the_visit',
    sqlState: foreignKey,
    breaks: [photoOfOtherVisit()],
    allows: [
      [photoRow({ visit_id: ids.otherVisit, sha256: sha256Of('a photo') }), photoOfOtherVisit()],
    ],
  },
  {
    title: 'what was reported by phone has no photo',
    guard: 'observation_photo_of_a_visit',
    sqlState: check,
    breaks: [observationRow({ visit_id: null, photo_sha256: sha256Of('a photo') })],
    allows: [[observationRow({ visit_id: null, photo_sha256: null })]],
  },
  {
    title: 'a reading names a photo that is stored for its visit; none is fine',
    guard: 'reading_photo_of_the_visit',
    sqlState: foreignKey,
    breaks: [readingRow({ photo_sha256: sha256Of('another photo') })],
    allows: [
      [readingRow({ photo_sha256: sha256Of('a photo') })],
      [readingRow({ photo_sha256: null })],
    ],
  },
  {
    title: 'a reading names no photo of another visit, until it is one of its own too',
    guard: 'reading_photo_of_the_visit',
    sqlState: foreignKey,
    breaks: [readingRow({ visit_id: ids.otherVisit, photo_sha256: sha256Of('a photo') })],
    allows: [
      [
        photoRow({ visit_id: ids.otherVisit, sha256: sha256Of('a photo') }),
        readingRow({ visit_id: ids.otherVisit, photo_sha256: sha256Of('a photo') }),
      ],
    ],
  },
  word('what a photo shows is a word of the list', 'visit_photo_shows_known', photoRow, {
    shows: ['the customer', 'meter_face'],
  }),
  ...[
    { width_px: 1_600, height_px: null },
    { width_px: null, height_px: 1_200 },
    { width_px: 0, height_px: 1_200 },
    { width_px: 1_600, height_px: -1 },
  ].map((size) => ({
    title: `a photo is not ${size.width_px} by ${size.height_px}; a size is two numbers or unknown`,
    guard: 'visit_photo_size_whole',
    sqlState: check,
    breaks: [photoRow(size)],
    allows: [
      [photoRow({ width_px: 1_600, height_px: 1_200 })],
      [photoRow({ width_px: null, height_px: null })],
    ],
  })),
  signed('visit_photo_recorded_by_fkey', photoRow, 'recorded_by_id'),
  {
    title: 'an observation of a visit is of that visit’s ticket; one by phone has no visit',
    guard: 'observation_of_the_visits_ticket',
    sqlState: foreignKey,
    breaks: [observationRow({ ticket_id: ids.otherTicket })],
    allows: [
      [observationRow({ ticket_id: ids.otherTicket, visit_id: ids.otherVisit })],
      [observationRow({ ticket_id: ids.otherTicket, visit_id: null })],
    ],
  },
  {
    title: 'a finding has a standing of the verdict table',
    guard: 'finding_standing_known',
    sqlState: check,
    breaks: [findingRow({ standing: 'certain', priceable: false })],
    allows: [
      ['contradicted', 'not_applicable', 'unproven'].map((standing, at) =>
        findingRow({ id: id(65 + at), standing, priceable: false }),
      ),
    ],
  },
  ...['unproven', 'contradicted', 'not_applicable'].map((standing) => ({
    title: `a finding that is ${standing} is not priceable; a supported one may be`,
    guard: 'finding_priceable_needs_support',
    sqlState: check,
    breaks: [findingRow({ standing })],
    allows: [[findingRow({ standing: 'supported' })], [findingRow({ standing, priceable: false })]],
  })),
  word('a remedy class is one of the catalog’s', 'finding_remedy_known', findingRow, {
    remedy_class: ['upsell', 'advise'],
  }),
  {
    title: 'a part is used at least once',
    guard: 'finding_part_quantity_positive',
    sqlState: check,
    breaks: [findingPartRow({ part_code: 'FUSE-3', quantity: 0 })],
    allows: [[findingPartRow({ part_code: 'FUSE-3', quantity: 1 })]],
  },
  {
    title: 'the owner’s reason is words, not blanks',
    guard: 'finding_override_reason_given',
    sqlState: check,
    breaks: [findingOverrideRow({ reason: ' \n\t' })],
    allows: [[findingOverrideRow()]],
  },
  ...[{ minutes: -1 }, { minutes: 6_001 }, { access_minutes: -1 }, { access_minutes: 601 }].map(
    (change) => ({
      title: `minutes of the price book are sane: not ${JSON.stringify(change)}`,
      guard: 'price_book_task_minutes_sane',
      sqlState: check,
      breaks: [bookTaskRow(change)],
      allows: [
        [bookTaskRow({ minutes: 0, access_minutes: 0 })],
        [bookTaskRow({ minutes: 6_000, access_minutes: 600 })],
      ],
    }),
  ),
  {
    title: 'no part costs less than nothing; a free one is fine',
    guard: 'price_book_part_cost_not_negative',
    sqlState: check,
    breaks: [bookPartRow({ cost_cents: -1 })],
    allows: [[bookPartRow({ cost_cents: 0 })]],
  },
  ...['1', '-0.000001'].map((rate) => ({
    title: `a tax rate is a fraction: not ${rate}`,
    guard: 'tax_rule_rate_is_fraction',
    sqlState: check,
    breaks: [taxRuleRow({ rate })],
    allows: [[taxRuleRow({ rate: '0' })], [taxRuleRow({ rate: '0.999999' })]],
  })),
  {
    title: 'tax falls on classes we know; on none is fine',
    guard: 'tax_rule_classes_known',
    sqlState: check,
    breaks: [taxRuleRow({ taxable_classes: ['part', 'tip'] })],
    allows: [
      [taxRuleRow({ taxable_classes: [] })],
      [
        taxRuleRow({
          taxable_classes: ['visit_fee', 'part', 'labor', 'access', 'material', 'equipment'],
        }),
      ],
    ],
  },
  word('a tax rule’s mode is one we know', 'tax_rule_mode_known', taxRuleRow, {
    mode: ['hidden', 'lump_sum'],
  }),
  word('a tax rule’s basis is one we know', 'tax_rule_basis_known', taxRuleRow, {
    basis: ['whole', 'item'],
  }),
  {
    title: 'a tax rule ends after it begins; the next day will do',
    guard: 'tax_rule_days_forward',
    sqlState: check,
    breaks: [taxRuleRow({ effective_to: '2027-01-01' })],
    allows: [[taxRuleRow({ effective_to: '2027-01-02' })]],
  },
  {
    title:
      'one tax rule of a jurisdiction holds on a day; successors and other jurisdictions are fine',
    guard: 'tax_rule_one_per_day',
    sqlState: exclusion,
    breaks: [taxRuleRow({ effective_from: '2026-12-31' })],
    allows: [
      [taxRuleRow({ effective_from: '2027-01-01', effective_to: null })],
      [taxRuleRow({ effective_from: '2026-12-31', jurisdiction: 'QY' })],
    ],
  },
  {
    title: 'an open-ended tax rule leaves no day for a later one',
    guard: 'tax_rule_one_per_day',
    sqlState: exclusion,
    breaks: [
      taxRuleRow({ id: id(96), effective_from: '2027-01-01', effective_to: null }),
      taxRuleRow({ effective_from: '2031-01-01', effective_to: null }),
    ],
    allows: [[taxRuleRow({ effective_from: '2027-01-01', effective_to: null })]],
  },
  {
    title: 'a closed ticket says since when; an open one need not',
    guard: 'ticket_closed_at_some_time',
    sqlState: check,
    breaks: [ticketRow({ state: 'closed' })],
    behind: ['ticket_first_closing_noted'],
    allows: [
      [ticketRow({ state: 'closed', first_closed_at: '2026-07-16T19:00:00Z' })],
      [ticketRow()],
    ],
  },
  {
    title: 'the first closing of a ticket stays, even when a callback reopens it',
    guard: 'ticket_first_closing_stays',
    sqlState: restrict,
    breaks: [
      closedTicket(),
      sql(`UPDATE ticket SET first_closed_at = '2026-08-01T00:00:00Z' WHERE id = '${id(39)}'`),
    ],
    allows: [
      [closedTicket(), sql(`UPDATE ticket SET state = 'new' WHERE id = '${id(39)}'`)],
      [ticketRow(), sql(`UPDATE ticket SET first_closed_at = now() WHERE id = '${id(39)}'`)],
    ],
  },
  {
    title: 'a document is its hash',
    guard: 'document_is_its_hash',
    sqlState: check,
    breaks: [documentRow({ bytes: Buffer.from('another paper, improved') })],
    allows: [[documentRow()]],
  },
  signed('ticket_created_by_fkey', ticketRow, 'created_by_id'),
  signed('reading_recorded_by_fkey', readingRow, 'recorded_by_id'),
  signed('observation_recorded_by_fkey', observationRow, 'recorded_by_id'),
  signed('finding_recorded_by_fkey', findingRow, 'recorded_by_id'),
  signed('finding_override_granted_by_fkey', findingOverrideRow, 'granted_by_id'),
  signed('price_book_version_published_by_fkey', bookRow, 'published_by_id'),
];

function plateWith(figure: string, value: number | null): Statement {
  return sql(`UPDATE equipment SET ${figure} = $1 WHERE id = '${ids.equipment}'`, [value]);
}

function closedTicket(): Statement {
  return ticketRow({ state: 'closed', first_closed_at: '2026-07-16T19:00:00Z' });
}

function photoOfOtherVisit(): Statement {
  return observationRow({
    ticket_id: ids.otherTicket,
    visit_id: ids.otherVisit,
    photo_sha256: sha256Of('a photo'),
  });
}

function window(start: string, end: string, technician: string = ids.technician): Statement {
  return visitRow({ technician_id: technician, window_start: start, window_end: end });
}

/** A column that takes words of a list: one outside it, one of it. */
export function word(
  title: string,
  guard: string,
  row: (change: Row) => Statement,
  words: Record<string, [outside: string, inside: string]>,
): GuardCase {
  const column = (at: 0 | 1): Row =>
    Object.fromEntries(Object.entries(words).map(([name, both]) => [name, both[at]]));
  return { title, guard, sqlState: check, breaks: [row(column(0))], allows: [[row(column(1))]] };
}

/** A column that says who did it. */
export function signed(guard: string, row: (change: Row) => Statement, column: string): GuardCase {
  return {
    title: `${column} of ${guard.split('_by_')[0]} is a member of staff`,
    guard,
    sqlState: foreignKey,
    breaks: [row({ [column]: ids.nobody })],
    allows: [[row({ [column]: ids.owner })]],
  };
}

/**
 * A column that points at a row that must be there.
 * @param there the column with a row it may point at
 * @param before what puts that row there
 */
export function refers(
  guard: string,
  row: (change: Row) => Statement,
  there: Row,
  before: Statement[] = [],
): GuardCase {
  const nowhere = Object.fromEntries(Object.keys(there).map((column) => [column, ids.nobody]));
  return {
    title: `${Object.keys(there)} of ${guard.replace(/_fkey$/, '')} is there`,
    guard,
    sqlState: foreignKey,
    breaks: [row(nowhere)],
    allows: [[...before, row(there)]],
  };
}
