import { readFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import pg from 'pg';
import { beforeAll, describe, expect, it } from 'vitest';
import { openSchemaEngine } from '../../src/platform/database/schema-engine.ts';
import { createEmptyDatabase, createTestDatabase } from '../harness/test-database.ts';

/**
 * What the migrations say and prisma/schema.prisma does not, or says otherwise, on purpose. Anything
 * else that differs is a drift; an entry here that no longer differs is stale and fails as well.
 */
const intended = {
  columns: {
    reason: 'columns the server computes, and lists that are empty but never unknown',
    onlyMigrations: [
      'customer.name_search text null generated',
      'customer.phone_digits text null generated',
      'maintenance_schedule.months integer[] not null',
      'quote_line.finding_ids uuid[] not null',
      'site.street_search text null generated',
      'tax_rule.taxable_classes text[] not null',
      'technician_profile.skills text[] not null',
      'ticket.symptoms text[] not null',
    ],
    onlyPrisma: [
      'customer.name_search text null',
      'customer.phone_digits text null',
      'maintenance_schedule.months integer[] null',
      'quote_line.finding_ids uuid[] null',
      'site.street_search text null',
      'tax_rule.taxable_classes text[] null',
      'technician_profile.skills text[] null',
      'ticket.symptoms text[] null',
    ],
  },
  indexes: {
    reason:
      'trigram search, what was proven, the one standing revision, and the indexes of exclusion constraints',
    onlyMigrations: [
      'audit_run: CREATE UNIQUE INDEX audit_run_one_at_a_time ON public.audit_run USING btree ((true)) WHERE (finished_at IS NULL)',
      'call_back: CREATE INDEX call_back_due ON public.call_back USING btree (due_at) WHERE (made_at IS NULL)',
      `consumer_rule: CREATE INDEX consumer_rule_one_per_day ON public.consumer_rule USING gist (jurisdiction, code, daterange(effective_from, effective_to, '[)'::text))`,
      'customer: CREATE INDEX customer_name_search_trgm ON public.customer USING gin (name_search gin_trgm_ops)',
      'customer: CREATE INDEX customer_phone_digits_trgm ON public.customer USING gin (phone_digits gin_trgm_ops)',
      "delivery: CREATE UNIQUE INDEX delivery_issued_once ON public.delivery USING btree (paper_id, customer_id) WHERE (cause = 'issued'::text)",
      "delivery_state: CREATE INDEX delivery_state_due ON public.delivery_state USING btree (next_at) WHERE (state = 'waiting'::text)",
      "delivery_state: CREATE INDEX delivery_state_leased ON public.delivery_state USING btree (lease_until) WHERE (state = 'sending'::text)",
      `finding: CREATE INDEX finding_proven ON public.finding USING btree (visit_id, fault_code, found_at) WHERE (standing = 'proven'::text)`,
      'invoice_document: CREATE UNIQUE INDEX invoice_document_fee_once ON public.invoice_document USING btree (visit_id)',
      'invoice_document: CREATE UNIQUE INDEX invoice_document_quote_once ON public.invoice_document USING btree (quote_id)',
      'invoice_document: CREATE UNIQUE INDEX invoice_document_undone_once ON public.invoice_document USING btree (undone_quote_id)',
      'quote_link: CREATE UNIQUE INDEX quote_link_one_live ON public.quote_link USING btree (quote_id, holder, holder_id) WHERE ((revoked_at IS NULL) AND (delivery_id IS NULL))',
      `quote_state: CREATE UNIQUE INDEX quote_state_one_standing ON public.quote_state USING btree (quote_id) WHERE (state = ANY (ARRAY['issued'::quote_state_name, 'accepted'::quote_state_name]))`,
      `site_agreement: CREATE INDEX site_agreement_one_per_day ON public.site_agreement USING gist (site_id, daterange(starts_on, ends_on, '[)'::text))`,
      'stock_move: CREATE UNIQUE INDEX stock_move_bill_line_counted_once ON public.stock_move USING btree (bill_id, bill_position)',
      'supplier_bill: CREATE UNIQUE INDEX supplier_bill_number_key ON public.supplier_bill USING btree (lower(supplier), number)',
      `tax_rule: CREATE INDEX tax_rule_one_per_day ON public.tax_rule USING gist (jurisdiction, daterange(effective_from, effective_to, '[)'::text))`,
      `visit: CREATE INDEX visit_one_live_work_per_technician ON public.visit USING gist (technician_id, tstzrange(COALESCE(planned_start, window_start), COALESCE(planned_end, window_end), '[)'::text)) WHERE (state = ANY (ARRAY['booked'::visit_state, 'on_the_way'::visit_state, 'on_site'::visit_state]))`,
      `helper_days: CREATE INDEX helper_days_one_per_day ON public.helper_days USING gist (helper_id, daterange(first_day, last_day, '[]'::text)) WHERE (withdrawn_at IS NULL)`,
      'phone_check: CREATE UNIQUE INDEX phone_check_one_open ON public.phone_check USING btree (ticket_id) WHERE (outcome IS NULL)',
      `sign_in_link: CREATE UNIQUE INDEX sign_in_link_one_open ON public.sign_in_link USING btree (COALESCE(staff_id, '00000000-0000-0000-0000-000000000000'::uuid)) WHERE ((used_at IS NULL) AND (revoked_at IS NULL))`,
      'staff_second_factor: CREATE UNIQUE INDEX staff_second_factor_one_each ON public.staff_second_factor USING btree (staff_id) WHERE (ended_at IS NULL)',
      'staff: CREATE UNIQUE INDEX staff_email_key ON public.staff USING btree (lower(email))',
      'site: CREATE INDEX site_placed_by_postal_code ON public.site USING btree (postal_code, id) WHERE (latitude_deg IS NOT NULL)',
      'site: CREATE INDEX site_street_search_trgm ON public.site USING gin (street_search gin_trgm_ops)',
      `ticket: CREATE INDEX ticket_open_at_site ON public.ticket USING btree (site_id) WHERE (state <> ALL (ARRAY['closed'::ticket_state, 'resolved_by_phone'::ticket_state, 'cancelled'::ticket_state]))`,
      `ticket: CREATE INDEX ticket_on_the_board ON public.ticket USING btree (state, created_at) WHERE (state <> ALL (ARRAY['closed'::ticket_state, 'resolved_by_phone'::ticket_state, 'cancelled'::ticket_state]))`,
    ],
    onlyPrisma: [],
  },
  references: {
    reason:
      'who did it, kept without a relation so that staff does not list all its deeds; and references over several columns that bind papers to what was shown',
    onlyMigrations: [
      'acceptance_cancellation.acceptance_cancellation_recorded_by_fkey FOREIGN KEY (recorded_by_id) REFERENCES staff(id)',
      'audit_answer.audit_answer_answered_by_fkey FOREIGN KEY (answered_by_id) REFERENCES staff(id)',
      'audit_run.audit_run_started_by_fkey FOREIGN KEY (started_by_id) REFERENCES staff(id)',
      'bill_import.bill_import_imported_by_fkey FOREIGN KEY (imported_by_id) REFERENCES staff(id)',
      'consumer_rule.consumer_rule_created_by_fkey FOREIGN KEY (created_by_id) REFERENCES staff(id)',
      'credit_memo.credit_memo_issued_by_fkey FOREIGN KEY (issued_by_id) REFERENCES staff(id)',
      'delivery.delivery_asked_by_fkey FOREIGN KEY (asked_by_id) REFERENCES staff(id)',
      'finding.finding_recorded_by_fkey FOREIGN KEY (recorded_by_id) REFERENCES staff(id)',
      'finding_override.finding_override_granted_by_fkey FOREIGN KEY (granted_by_id) REFERENCES staff(id)',
      'invoice.invoice_created_by_fkey FOREIGN KEY (created_by_id) REFERENCES staff(id)',
      'invoice_document.invoice_document_accepted_option FOREIGN KEY (option_id, total_cents) REFERENCES quote_option(id, total_cents)',
      'invoice_document.invoice_document_accepted_total FOREIGN KEY (quote_id, total_cents) REFERENCES quote_acceptance(quote_id, total_cents)',
      'invoice_document.invoice_document_undone_quote FOREIGN KEY (undone_quote_id) REFERENCES quote_acceptance(quote_id)',
      'invoice_issue.invoice_issue_issued_by_fkey FOREIGN KEY (issued_by_id) REFERENCES staff(id)',
      'journal_seal.journal_seal_entry_exists FOREIGN KEY (entry_id) REFERENCES journal_entry(id)',
      'observation.observation_of_the_visits_ticket FOREIGN KEY (visit_id, ticket_id) REFERENCES visit(id, ticket_id)',
      'observation.observation_photo_of_the_visit FOREIGN KEY (visit_id, photo_sha256) REFERENCES visit_photo(visit_id, sha256)',
      'observation.observation_recorded_by_fkey FOREIGN KEY (recorded_by_id) REFERENCES staff(id)',
      'part_left_over.part_left_over_recorded_by_fkey FOREIGN KEY (recorded_by_id) REFERENCES staff(id)',
      'part_use.part_use_recorded_by_fkey FOREIGN KEY (recorded_by_id) REFERENCES staff(id)',
      'part_wait.part_wait_of_the_visits_ticket FOREIGN KEY (visit_id, ticket_id) REFERENCES visit(id, ticket_id)',
      'part_wait.part_wait_recorded_by_fkey FOREIGN KEY (recorded_by_id) REFERENCES staff(id)',
      'payment.payment_recorded_by_fkey FOREIGN KEY (recorded_by_id) REFERENCES staff(id)',
      'payment_void.payment_void_recorded_by_fkey FOREIGN KEY (recorded_by_id) REFERENCES staff(id)',
      'person_erasure.person_erasure_erased_by_fkey FOREIGN KEY (erased_by_id) REFERENCES staff(id)',
      'price_book_draft.price_book_draft_created_by_fkey FOREIGN KEY (created_by_id) REFERENCES staff(id)',
      'price_book_version.price_book_version_published_by_fkey FOREIGN KEY (published_by_id) REFERENCES staff(id)',
      'quote.quote_created_by_fkey FOREIGN KEY (created_by_id) REFERENCES staff(id)',
      'quote.quote_of_the_visits_ticket FOREIGN KEY (visit_id, ticket_id) REFERENCES visit(id, ticket_id)',
      'quote_acceptance.quote_acceptance_recorded_by_fkey FOREIGN KEY (recorded_by_id) REFERENCES staff(id)',
      'quote_acceptance.quote_acceptance_shown_hash FOREIGN KEY (quote_id, revision, content_hash) REFERENCES quote_issue(quote_id, revision, content_hash)',
      'quote_acceptance.quote_acceptance_shown_total FOREIGN KEY (option_id, total_cents) REFERENCES quote_option(id, total_cents)',
      'quote_confirmation.quote_confirmation_confirmed_by_fkey FOREIGN KEY (confirmed_by_id) REFERENCES staff(id)',
      'quote_confirmation.quote_confirmation_revision_exists FOREIGN KEY (quote_id, revision) REFERENCES quote_revision(quote_id, number)',
      'quote_decline.quote_decline_of_issued FOREIGN KEY (quote_id, revision) REFERENCES quote_issue(quote_id, revision)',
      'quote_decline.quote_decline_recorded_by_fkey FOREIGN KEY (recorded_by_id) REFERENCES staff(id)',
      'quote_decline_note.quote_decline_note_noted_by_fkey FOREIGN KEY (noted_by_id) REFERENCES staff(id)',
      'quote_follow_up.quote_follow_up_of_issued FOREIGN KEY (quote_id, revision) REFERENCES quote_issue(quote_id, revision)',
      'quote_follow_up.quote_follow_up_recorded_by_fkey FOREIGN KEY (recorded_by_id) REFERENCES staff(id)',
      'quote_issue.quote_issue_issued_by_fkey FOREIGN KEY (issued_by_id) REFERENCES staff(id)',
      'quote_issue.quote_issue_revision_exists FOREIGN KEY (quote_id, revision) REFERENCES quote_revision(quote_id, number)',
      'quote_line.quote_line_aim_within_option FOREIGN KEY (option_id, aimed_at) REFERENCES quote_line(option_id, key) DEFERRABLE INITIALLY DEFERRED',
      'quote_link.quote_link_created_by_fkey FOREIGN KEY (created_by_id) REFERENCES staff(id)',
      'quote_revision.quote_revision_created_by_fkey FOREIGN KEY (created_by_id) REFERENCES staff(id)',
      'quote_state.quote_state_revision_exists FOREIGN KEY (quote_id, revision) REFERENCES quote_revision(quote_id, number)',
      'reading.reading_photo_of_the_visit FOREIGN KEY (visit_id, photo_sha256) REFERENCES visit_photo(visit_id, sha256)',
      'reading.reading_recorded_by_fkey FOREIGN KEY (recorded_by_id) REFERENCES staff(id)',
      'refrigerant_move.refrigerant_move_recorded_by_fkey FOREIGN KEY (recorded_by_id) REFERENCES staff(id)',
      'refund.refund_recorded_by_fkey FOREIGN KEY (recorded_by_id) REFERENCES staff(id)',
      'site_agreement.site_agreement_created_by_fkey FOREIGN KEY (created_by_id) REFERENCES staff(id)',
      'stock_move.stock_move_has_another_half FOREIGN KEY (other_move_id) REFERENCES stock_move(id) DEFERRABLE INITIALLY DEFERRED',
      'stock_move.stock_move_of_a_bill FOREIGN KEY (bill_id, bill_position) REFERENCES supplier_bill_line(bill_id, "position")',
      'stock_move.stock_move_of_a_visit FOREIGN KEY (visit_id) REFERENCES visit(id)',
      'stock_move.stock_move_recorded_by_fkey FOREIGN KEY (recorded_by_id) REFERENCES staff(id)',
      'supplier_bill.supplier_bill_recorded_by_fkey FOREIGN KEY (recorded_by_id) REFERENCES staff(id)',
      'ticket.ticket_created_by_fkey FOREIGN KEY (created_by_id) REFERENCES staff(id)',
      'ticket_callback.ticket_callback_reopened_by_fkey FOREIGN KEY (reopened_by_id) REFERENCES staff(id)',
      'ticket_closing.ticket_closing_closed_by_fkey FOREIGN KEY (closed_by_id) REFERENCES staff(id)',
      'visit_photo.visit_photo_recorded_by_fkey FOREIGN KEY (recorded_by_id) REFERENCES staff(id)',
      'warranty_claim.warranty_claim_opened_by_fkey FOREIGN KEY (opened_by_id) REFERENCES staff(id)',
      'warranty_claim_step.warranty_claim_step_recorded_by_fkey FOREIGN KEY (recorded_by_id) REFERENCES staff(id)',
      'work_outcome.work_outcome_recorded_by_fkey FOREIGN KEY (recorded_by_id) REFERENCES staff(id)',
      'work_strike.work_strike_struck_by_fkey FOREIGN KEY (struck_by_id) REFERENCES staff(id)',
      'calendar_feed.calendar_feed_created_by_fkey FOREIGN KEY (created_by_id) REFERENCES staff(id)',
      'call_back.call_back_made_by_fkey FOREIGN KEY (made_by_id) REFERENCES staff(id)',
      'certificate.certificate_created_by_fkey FOREIGN KEY (created_by_id) REFERENCES staff(id)',
      'day_plan.day_plan_created_by_fkey FOREIGN KEY (created_by_id) REFERENCES staff(id)',
      'day_plan_use.day_plan_use_used_by_fkey FOREIGN KEY (used_by_id) REFERENCES staff(id)',
      'helper_days.helper_days_created_by_fkey FOREIGN KEY (created_by_id) REFERENCES staff(id)',
      'phone_answer.phone_answer_recorded_by_fkey FOREIGN KEY (recorded_by_id) REFERENCES staff(id)',
      'phone_check.phone_check_danger_over_by_fkey FOREIGN KEY (danger_over_by_id) REFERENCES staff(id)',
      'phone_check.phone_check_started_by_fkey FOREIGN KEY (started_by_id) REFERENCES staff(id)',
      'priority_override.priority_override_created_by_fkey FOREIGN KEY (created_by_id) REFERENCES staff(id)',
      'sign_in_link.sign_in_link_created_by_fkey FOREIGN KEY (created_by_id) REFERENCES staff(id)',
      'work_absence.work_absence_created_by_fkey FOREIGN KEY (created_by_id) REFERENCES staff(id)',
      'work_week.work_week_created_by_fkey FOREIGN KEY (created_by_id) REFERENCES staff(id)',
    ],
    onlyPrisma: [],
  },
  enums: { reason: 'none', onlyMigrations: [], onlyPrisma: [] },
} satisfies Record<string, { reason: string; onlyMigrations: string[]; onlyPrisma: string[] }>;

type Facet = keyof typeof intended;
type Shape = Record<Facet, string[]>;

const facets = Object.keys(intended) as Facet[];
let migrated: Shape;
let described: Shape;

beforeAll(async () => {
  migrated = await shapeOfMigrations();
  described = await shapeOfPrismaSchema();
});

describe('the typed client is told the truth about the tables', () => {
  it('there is something to compare', () => {
    expect(migrated.columns.length).toBeGreaterThan(200);
    expect(described.columns.length).toBe(migrated.columns.length);
    expect(described.references.length).toBeGreaterThan(25);
  });

  it.each(facets)('%s differ only where they are meant to', (facet) => {
    const { onlyMigrations, onlyPrisma } = intended[facet];
    expect(missingFrom(described[facet], migrated[facet])).toEqual([...onlyMigrations].sort());
    expect(missingFrom(migrated[facet], described[facet])).toEqual([...onlyPrisma].sort());
  });
});

function missingFrom(known: string[], all: string[]): string[] {
  return all.filter((each) => !known.includes(each)).sort();
}

async function shapeOfMigrations(): Promise<Shape> {
  const database = await createTestDatabase();
  try {
    return await shapeOf(database.owner);
  } finally {
    await database.drop();
  }
}

// Prisma's own engine turns the schema into SQL; what the server makes of that is the schema's shape.
async function shapeOfPrismaSchema(): Promise<Shape> {
  const database = await createEmptyDatabase();
  const client = new pg.Client({ connectionString: database.url });
  try {
    await client.connect();
    // The schema's defaults draw from sequences that its language cannot declare.
    await client.query(
      'CREATE SEQUENCE ticket_number_seq; CREATE SEQUENCE quote_number_seq; CREATE SEQUENCE receipt_number_seq',
    );
    await client.query(await sqlOfPrismaSchema(database.url));
    return await shapeOf(client);
  } finally {
    await client.end();
    await database.drop();
  }
}

async function sqlOfPrismaSchema(url: string): Promise<string> {
  const path = fileURLToPath(new URL('../../prisma/schema.prisma', import.meta.url));
  const content = await readFile(path, 'utf8');
  const { engine, close } = await openSchemaEngine(url);
  try {
    const diff = await engine.diff({
      from: { tag: 'empty' },
      to: { tag: 'schemaDatamodel', files: [{ path, content }] },
      script: true,
      exitCode: null,
      filters: { externalTables: [], externalEnums: [] },
    });
    return diff.stdout ?? '';
  } finally {
    await close();
  }
}

async function shapeOf(client: pg.Pool | pg.Client): Promise<Shape> {
  const lines = async (query: string) => {
    const found = await client.query<{ line: string }>(query);
    return found.rows.map(({ line }) => line);
  };
  return {
    columns: await lines(COLUMNS),
    indexes: await lines(INDEXES),
    references: await lines(REFERENCES),
    enums: await lines(ENUMS),
  };
}

const COLUMNS = `
  SELECT format('%s.%s %s %s', c.relname, a.attname, format_type(a.atttypid, a.atttypmod),
      CASE WHEN a.attnotnull THEN 'not null' ELSE 'null' END)
    || CASE WHEN a.attgenerated <> '' THEN ' generated'
            WHEN d.adbin IS NOT NULL THEN ' default ' || pg_get_expr(d.adbin, d.adrelid)
            ELSE '' END AS line
  FROM pg_attribute a JOIN pg_class c ON c.oid = a.attrelid
  LEFT JOIN pg_attrdef d ON d.adrelid = a.attrelid AND d.adnum = a.attnum
  WHERE c.relnamespace = 'public'::regnamespace AND c.relkind = 'r' AND a.attnum > 0
    AND NOT a.attisdropped AND c.relname <> '_prisma_migrations'`;

// Primary keys and unique constraints are indexes too.
const INDEXES = `
  SELECT format('%s: %s', tablename, indexdef) AS line FROM pg_indexes
  WHERE schemaname = 'public' AND tablename <> '_prisma_migrations'`;

const REFERENCES = `
  SELECT format('%s.%s %s', conrelid::regclass, conname, pg_get_constraintdef(oid)) AS line
  FROM pg_constraint WHERE contype = 'f' AND connamespace = 'public'::regnamespace`;

const ENUMS = `
  SELECT format('%s: %s', t.typname, string_agg(e.enumlabel, ', ' ORDER BY e.enumsortorder)) AS line
  FROM pg_enum e JOIN pg_type t ON t.oid = e.enumtypid GROUP BY t.typname`;
