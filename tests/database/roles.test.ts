import { randomBytes } from 'node:crypto';
import pg from 'pg';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createTestDatabase, type TestDatabase } from '../harness/test-database.ts';
import { check, type Refusal, refusalOf } from './guard-case.ts';
import { acceptanceRow, draftRows, lineRow, moveTo, optionId } from './quote-rows.ts';
import { id, ids, type Statement, sql } from './rows.ts';
import { quotes, stock } from './stock.ts';
import { supplies } from './supply-rows.ts';

/**
 * What each role may do with each table: r read, a add, w change, d delete. Nobody but the owner
 * empties tables, points references at them or hangs triggers on them.
 */
const privileges: Record<string, { evenhand_app: string; evenhand_read: string }> = {
  _prisma_migrations: { evenhand_app: 'r', evenhand_read: 'r' },
  acceptance_cancellation: { evenhand_app: 'ra', evenhand_read: 'r' },
  audit_answer: { evenhand_app: 'ra', evenhand_read: 'r' },
  audit_answer_memo: { evenhand_app: 'ra', evenhand_read: 'r' },
  audit_flag: { evenhand_app: 'ra', evenhand_read: 'r' },
  audit_flag_state: { evenhand_app: 'ra', evenhand_read: 'r' },
  audit_judgement: { evenhand_app: 'ra', evenhand_read: 'r' },
  audit_place: { evenhand_app: 'r', evenhand_read: 'r' },
  audit_run: { evenhand_app: 'ra', evenhand_read: 'r' },
  bill_import: { evenhand_app: 'ra', evenhand_read: 'r' },
  calendar_feed: { evenhand_app: 'ra', evenhand_read: '' },
  call_back: { evenhand_app: 'ra', evenhand_read: 'r' },
  certificate: { evenhand_app: 'ra', evenhand_read: 'r' },
  closing_uncured: { evenhand_app: 'ra', evenhand_read: 'r' },
  comfort_system: { evenhand_app: 'raw', evenhand_read: 'r' },
  company: { evenhand_app: 'raw', evenhand_read: 'r' },
  consumer_rule: { evenhand_app: 'ra', evenhand_read: 'r' },
  credit_memo: { evenhand_app: 'ra', evenhand_read: 'r' },
  credit_memo_line: { evenhand_app: 'ra', evenhand_read: 'r' },
  customer: { evenhand_app: 'raw', evenhand_read: '' },
  day_plan: { evenhand_app: 'ra', evenhand_read: 'r' },
  day_plan_use: { evenhand_app: 'ra', evenhand_read: 'r' },
  day_weather: { evenhand_app: 'ra', evenhand_read: 'r' },
  delivery: { evenhand_app: 'ra', evenhand_read: 'r' },
  delivery_state: { evenhand_app: 'ra', evenhand_read: 'r' },
  dispatch_policy: { evenhand_app: 'ra', evenhand_read: 'r' },
  document: { evenhand_app: 'ra', evenhand_read: 'r' },
  equipment: { evenhand_app: 'raw', evenhand_read: 'r' },
  finding: { evenhand_app: 'ra', evenhand_read: 'r' },
  finding_override: { evenhand_app: 'ra', evenhand_read: 'r' },
  finding_part: { evenhand_app: 'ra', evenhand_read: 'r' },
  helper_days: { evenhand_app: 'ra', evenhand_read: 'r' },
  idempotency_key: { evenhand_app: 'rad', evenhand_read: '' },
  imported_bill: { evenhand_app: 'ra', evenhand_read: 'r' },
  invoice: { evenhand_app: 'ra', evenhand_read: 'r' },
  invoice_document: { evenhand_app: 'ra', evenhand_read: 'r' },
  invoice_issue: { evenhand_app: 'ra', evenhand_read: 'r' },
  invoice_line: { evenhand_app: 'ra', evenhand_read: 'r' },
  invoice_state: { evenhand_app: 'ra', evenhand_read: 'r' },
  journal_entry: { evenhand_app: 'ra', evenhand_read: 'r' },
  journal_seal: { evenhand_app: 'ra', evenhand_read: 'r' },
  journal_unsealed: { evenhand_app: 'rd', evenhand_read: 'r' },
  maintenance_due: { evenhand_app: 'ra', evenhand_read: 'r' },
  maintenance_schedule: { evenhand_app: 'ra', evenhand_read: 'r' },
  observation: { evenhand_app: 'ra', evenhand_read: 'r' },
  paper: { evenhand_app: 'ra', evenhand_read: 'r' },
  paper_file: { evenhand_app: 'ra', evenhand_read: 'r' },
  paper_key: { evenhand_app: 'ra', evenhand_read: 'r' },
  part_left_over: { evenhand_app: 'ra', evenhand_read: 'r' },
  part_use: { evenhand_app: 'ra', evenhand_read: 'r' },
  part_wait: { evenhand_app: 'ra', evenhand_read: 'r' },
  payment: { evenhand_app: 'ra', evenhand_read: 'r' },
  payment_void: { evenhand_app: 'ra', evenhand_read: 'r' },
  person_erasure: { evenhand_app: 'ra', evenhand_read: 'r' },
  phone_answer: { evenhand_app: 'ra', evenhand_read: 'r' },
  phone_check: { evenhand_app: 'ra', evenhand_read: 'r' },
  price_book_draft: { evenhand_app: 'ra', evenhand_read: 'r' },
  price_book_part: { evenhand_app: 'ra', evenhand_read: 'r' },
  price_book_task: { evenhand_app: 'ra', evenhand_read: 'r' },
  price_book_version: { evenhand_app: 'ra', evenhand_read: 'r' },
  priority_override: { evenhand_app: 'ra', evenhand_read: 'r' },
  quote: { evenhand_app: 'ra', evenhand_read: 'r' },
  quote_acceptance: { evenhand_app: 'ra', evenhand_read: 'r' },
  quote_confirmation: { evenhand_app: 'ra', evenhand_read: 'r' },
  quote_decline: { evenhand_app: 'ra', evenhand_read: 'r' },
  quote_decline_note: { evenhand_app: 'ra', evenhand_read: 'r' },
  quote_follow_up: { evenhand_app: 'ra', evenhand_read: 'r' },
  quote_issue: { evenhand_app: 'ra', evenhand_read: 'r' },
  quote_line: { evenhand_app: 'ra', evenhand_read: 'r' },
  quote_link: { evenhand_app: 'ra', evenhand_read: '' },
  quote_option: { evenhand_app: 'ra', evenhand_read: 'r' },
  quote_revision: { evenhand_app: 'ra', evenhand_read: 'r' },
  quote_state: { evenhand_app: 'ra', evenhand_read: 'r' },
  reading: { evenhand_app: 'ra', evenhand_read: 'r' },
  refrigerant_move: { evenhand_app: 'ra', evenhand_read: 'r' },
  refund: { evenhand_app: 'ra', evenhand_read: 'r' },
  sign_in_link: { evenhand_app: 'ra', evenhand_read: '' },
  sign_in_pace: { evenhand_app: 'rad', evenhand_read: '' },
  site: { evenhand_app: 'raw', evenhand_read: 'r' },
  site_agreement: { evenhand_app: 'ra', evenhand_read: 'r' },
  staff: { evenhand_app: 'raw', evenhand_read: 'r' },
  staff_password: { evenhand_app: 'ra', evenhand_read: '' },
  staff_recovery_code: { evenhand_app: 'ra', evenhand_read: '' },
  staff_second_factor: { evenhand_app: 'ra', evenhand_read: '' },
  staff_session: { evenhand_app: 'ra', evenhand_read: '' },
  staff_token: { evenhand_app: 'ra', evenhand_read: '' },
  standing_outcome: { evenhand_app: 'r', evenhand_read: 'r' },
  stock_level: { evenhand_app: 'r', evenhand_read: 'r' },
  stock_move: { evenhand_app: 'ra', evenhand_read: 'r' },
  stock_place: { evenhand_app: 'ra', evenhand_read: 'r' },
  stock_target: { evenhand_app: 'rad', evenhand_read: 'r' },
  supplier_bill: { evenhand_app: 'ra', evenhand_read: 'r' },
  supplier_bill_line: { evenhand_app: 'ra', evenhand_read: 'r' },
  tax_rule: { evenhand_app: 'ra', evenhand_read: 'r' },
  technician_profile: { evenhand_app: 'ra', evenhand_read: 'r' },
  ticket: { evenhand_app: 'ra', evenhand_read: 'r' },
  ticket_callback: { evenhand_app: 'ra', evenhand_read: 'r' },
  ticket_closing: { evenhand_app: 'ra', evenhand_read: 'r' },
  visit: { evenhand_app: 'ra', evenhand_read: 'r' },
  visit_photo: { evenhand_app: 'ra', evenhand_read: 'r' },
  warranty_claim: { evenhand_app: 'ra', evenhand_read: 'r' },
  warranty_claim_state: { evenhand_app: 'ra', evenhand_read: 'r' },
  warranty_claim_step: { evenhand_app: 'ra', evenhand_read: 'r' },
  work_absence: { evenhand_app: 'ra', evenhand_read: 'r' },
  work_outcome: { evenhand_app: 'ra', evenhand_read: 'r' },
  work_record: { evenhand_app: 'ra', evenhand_read: 'r' },
  work_strike: { evenhand_app: 'ra', evenhand_read: 'r' },
  work_week: { evenhand_app: 'ra', evenhand_read: 'r' },
};

/** Where a role may touch some columns of a row and not the others. */
const columnPrivileges = [
  'evenhand_app update audit_flag_state: state version changed_at',
  'evenhand_app update audit_judgement: ruleset_version facts_hash ended_at judged_at over_cents flag_count cannot_judge version open_cents',
  'evenhand_app update audit_place: position',
  'evenhand_app update audit_run: cursor done finished_at',
  'evenhand_app update calendar_feed: revoked_at',
  'evenhand_app update call_back: outcome tries note made_at made_by_id next_ticket_id version',
  'evenhand_app update certificate: withdrawn_at',
  'evenhand_app update consumer_rule: effective_to confirmed_by',
  'evenhand_app update day_weather: high_deg_f relative_humidity_percent version',
  'evenhand_app update delivery_state: state attempts next_at lease_until handed_over_at answer_code sent_to message_id link_id reason version changed_at',
  'evenhand_app update dispatch_policy: road_factor mph park_minutes windows usual_minutes base_latitude_deg base_longitude_deg version',
  'evenhand_app update helper_days: withdrawn_at',
  'evenhand_app update imported_bill: judgement flag_count over_cents ruleset_version price_book_version_id',
  'evenhand_app update invoice_state: state version changed_at',
  'evenhand_app update maintenance_schedule: months minutes version',
  'evenhand_app update phone_check: outcome danger_code ended_at end_note danger_over_at danger_over_note danger_over_by_id',
  'evenhand_app update price_book_draft: note content state published_version_id version updated_at',
  'evenhand_app update quote_link: revoked_at',
  'evenhand_app update quote_state: state version changed_at',
  'evenhand_app update sign_in_link: used_at revoked_at',
  'evenhand_app update sign_in_pace: full_at',
  'evenhand_app update site_agreement: ends_on version',
  'evenhand_app update staff_password: hash changed_at',
  'evenhand_app update staff_recovery_code: used_at',
  'evenhand_app update staff_second_factor: sealed_secret confirmed_at last_step ended_at',
  'evenhand_app update staff_session: idle_until ended_at used_at',
  'evenhand_app update staff_token: revoked_at',
  'evenhand_app update stock_place: name technician_id',
  'evenhand_app update stock_target: reorder_at order_up_to version',
  'evenhand_app update tax_rule: effective_to',
  'evenhand_app update technician_profile: base_latitude_deg base_longitude_deg skills version',
  'evenhand_app update ticket: state closing_note version first_closed_at',
  'evenhand_app update visit: state arrived_at end_note version same_trip_as planned_start planned_end left_at',
  'evenhand_app update warranty_claim_state: state version changed_at',
  'evenhand_app update work_absence: withdrawn_at',
  'evenhand_read select customer: id name phone email language phone_digits name_search version created_at',
];

const roles = ['evenhand_app', 'evenhand_read'] as const;
type Role = (typeof roles)[number];
const denied = '42501';

let database: TestDatabase;
/** Logins that are nothing but members of one role. */
let logins: Record<Role, pg.Pool>;
const loginNames = { evenhand_app: loginName(), evenhand_read: loginName() };

beforeAll(async () => {
  database = await createTestDatabase();
  await stock(database.owner);
  logins = {
    evenhand_app: await joinAs('evenhand_app'),
    evenhand_read: await joinAs('evenhand_read'),
  };
});

afterAll(async () => {
  for (const role of roles) {
    await logins[role].end();
    await database.owner.query(`DROP ROLE ${loginNames[role]}`);
  }
  await database.drop();
});

describe('privileges', () => {
  it.each(roles)('of %s on every table are those of the list, and no others', async (role) => {
    const held = await database.owner.query<{ name: string; letters: string }>(PRIVILEGES, [role]);
    const expected = Object.entries(privileges).map(([name, held]) => ({
      name,
      letters: held[role],
    }));
    expect(held.rows).toEqual(expected);
  });

  it('on single columns are those of the list, and all are held by these roles only', async () => {
    const columns = await database.owner.query<{ held: string }>(
      `SELECT format('%s %s %s: %s', acl.grantee::regrole, lower(acl.privilege_type),
         a.attrelid::regclass, string_agg(a.attname, ' ' ORDER BY a.attnum)) AS held
       FROM pg_attribute a JOIN pg_class c ON c.oid = a.attrelid, aclexplode(a.attacl) acl
       WHERE c.relnamespace = 'public'::regnamespace
       GROUP BY acl.grantee, acl.privilege_type, a.attrelid ORDER BY 1`,
    );
    expect(columns.rows.map(({ held }) => held)).toEqual(columnPrivileges);
    const grantees = await database.owner.query<{ grantee: string }>(
      `SELECT DISTINCT acl.grantee::regrole::text AS grantee
       FROM pg_class c, aclexplode(c.relacl) acl
       WHERE c.relnamespace = 'public'::regnamespace AND acl.grantee <> c.relowner ORDER BY 1`,
    );
    expect(grantees.rows.map(({ grantee }) => grantee)).toEqual([...roles]);
  });

  it('on the number sequences let the application draw numbers, and nothing else', async () => {
    const held = await database.owner.query(
      `SELECT c.relname AS name, r.role, p.privilege
       FROM pg_class c, unnest($1::text[]) r(role), unnest(ARRAY['SELECT', 'UPDATE', 'USAGE']) p(privilege)
       WHERE c.relkind = 'S' AND c.relnamespace = 'public'::regnamespace
         AND has_sequence_privilege(r.role, c.oid, p.privilege) ORDER BY 1, 2, 3`,
      [[...roles]],
    );
    expect(held.rows).toEqual(
      ['quote_number_seq', 'receipt_number_seq', 'ticket_number_seq'].map((name) => ({
        name,
        role: 'evenhand_app',
        privilege: 'USAGE',
      })),
    );
  });

  it('on what guards call are the application’s; nobody else runs it', async () => {
    const granted = await database.owner.query<{ held: string }>(
      `SELECT format('%s %s', p.proname, coalesce(nullif(acl.grantee, 0)::regrole::text, 'public')) AS held
       FROM pg_proc p, aclexplode(coalesce(p.proacl, acldefault('f', p.proowner))) acl
       WHERE p.pronamespace = 'public'::regnamespace AND acl.grantee <> p.proowner
         AND p.prorettype <> 'trigger'::regtype AND p.prolang <> (
           SELECT oid FROM pg_language WHERE lanname = 'c')
         AND EXISTS (SELECT 1 FROM pg_proc guard WHERE guard.pronamespace = p.pronamespace
           AND (guard.prorettype = 'trigger'::regtype OR guard.proname ~ '^check_')
             AND guard.prosrc ~ (p.proname || '[(]'))
       ORDER BY 1`,
    );
    expect(granted.rows.map(({ held }) => held)).toEqual([
      'bonds_of evenhand_app',
      'check_billed_as_accepted evenhand_app',
      'check_billed_fee evenhand_app',
      'check_undone evenhand_app',
      'company_day evenhand_app',
      'covering_visit evenhand_app',
      'erases evenhand_app',
      'fee_told evenhand_app',
      'goods_used_less evenhand_app',
      'invoice_balance evenhand_app',
      'is_one_stay evenhand_app',
      'labor_factor evenhand_app',
      'refuse evenhand_app',
      'refuse_old_view evenhand_app',
      'sold_findings evenhand_app',
      'ticket_only_closed evenhand_app',
    ]);
  });

  it('over the server, other databases and other roles are none', async () => {
    const attributes = await database.owner.query(
      `SELECT rolname, rolsuper, rolcreaterole, rolcreatedb, rolreplication, rolbypassrls
       FROM pg_roles WHERE rolname = ANY ($1) ORDER BY rolname`,
      [[...roles]],
    );
    const none = {
      rolsuper: false,
      rolcreaterole: false,
      rolcreatedb: false,
      rolreplication: false,
      rolbypassrls: false,
    };
    expect(attributes.rows).toEqual(roles.map((rolname) => ({ rolname, ...none })));
    const memberships = await database.owner.query(
      'SELECT 1 FROM pg_auth_members WHERE member::regrole::text = ANY ($1)',
      [[...roles]],
    );
    expect(memberships.rows).toEqual([]);
  });
});

describe('the application', () => {
  const insertOnly = Object.entries(privileges).filter(([, held]) => held.evenhand_app === 'ra');

  it.each(insertOnly)('neither changes, deletes nor empties %s', async (table) => {
    const column = await firstColumnOf(table);
    for (const statement of [
      `UPDATE ${table} SET ${column} = ${column}`,
      `DELETE FROM ${table}`,
      `TRUNCATE ${table}`,
    ]) {
      expect((await attemptAs('evenhand_app', [sql(statement)]))?.sqlState, statement).toBe(denied);
    }
  });

  it.each([
    'ALTER TABLE quote_line ADD COLUMN note text',
    'ALTER TABLE quote_line DISABLE TRIGGER quote_line_evidence',
    'ALTER TABLE quote_line DISABLE TRIGGER ALL',
    'ALTER TABLE quote_line DROP CONSTRAINT quote_line_sign',
    'ALTER TABLE quote_line RENAME TO old_quote_line',
    'ALTER TABLE quote_line OWNER TO evenhand_app',
    'DROP TRIGGER journal_entry_insert_only ON journal_entry',
    'DROP TABLE journal_seal',
    'DROP INDEX quote_state_one_standing',
    'CREATE TABLE public.reading_of_ours (id uuid)',
    'CREATE SCHEMA elsewhere',
    'CREATE OR REPLACE FUNCTION refuse_change() RETURNS trigger LANGUAGE sql AS $$ SELECT NULL $$',
    'ALTER FUNCTION refuse_change() RENAME TO allow_change',
    'CREATE TRIGGER ours BEFORE INSERT ON reading FOR EACH ROW EXECUTE FUNCTION refuse_change()',
    'CREATE RULE ours AS ON UPDATE TO reading DO INSTEAD NOTHING',
    `SET session_replication_role = 'replica'`,
    'CREATE ROLE accomplice',
    'ALTER ROLE evenhand_app SUPERUSER',
    `SELECT setval('ticket_number_seq', 1)`,
    `SELECT setval('receipt_number_seq', 1)`,
    'ALTER TABLE invoice_issue DISABLE TRIGGER invoice_issue_number_without_gap',
    'UPDATE invoice_issue SET total_cents = 0',
    `UPDATE quote_link SET expires_at = 'infinity'`,
    'UPDATE quote_link SET token_hash = token_hash',
    'UPDATE visit SET fee_cents = 0',
    `UPDATE visit SET purpose = 'call'`,
    `UPDATE consumer_rule SET content = '{}'`,
    'DELETE FROM consumer_rule',
    'INSERT INTO journal_unsealed (entry_id) SELECT id FROM journal_entry',
    `SELECT pg_read_file('postgresql.conf')`,
    `COPY (SELECT 1) TO PROGRAM 'true'`,
  ])('may not: %s', async (statement) => {
    const refusal = await attemptAs('evenhand_app', [sql(statement)]);
    expect(refusal?.sqlState).toBe(denied);
  });

  it('cannot become the owner of the schema', async () => {
    const owner = await database.owner.query<{ name: string }>(
      `SELECT pg_get_userbyid(relowner) AS name FROM pg_class WHERE relname = 'quote_line'`,
    );
    const taken = sql(`SET ROLE ${pg.escapeIdentifier(owner.rows[0]?.name ?? '')}`);
    expect((await attemptAs('evenhand_app', [taken]))?.sqlState).toBe(denied);
  });

  it('cannot queue an entry a second time by hanging the queue’s function on a table of its own', async () => {
    const refusal = await attemptAs('evenhand_app', [
      sql('CREATE TEMP TABLE decoy (id uuid)'),
      sql(`CREATE TRIGGER decoy AFTER INSERT ON decoy
        FOR EACH ROW EXECUTE FUNCTION public.queue_for_seal()`),
      sql('INSERT INTO decoy VALUES ($1)', [ids.entry]),
    ]);
    expect(refusal?.sqlState).toBe(denied);
  });

  it('cannot write a level by hanging the function that keeps it on a table of its own', async () => {
    const refusal = await attemptAs('evenhand_app', [
      sql('CREATE TEMP TABLE decoy (place_id uuid, part_code text, quantity numeric)'),
      sql(`CREATE TRIGGER decoy AFTER INSERT ON decoy
        FOR EACH ROW EXECUTE FUNCTION public.keep_stock_level()`),
      sql('INSERT INTO decoy VALUES ($1, $2, 1000)', [supplies.shelves, 'FUSE-3']),
    ]);
    expect(refusal?.sqlState).toBe(denied);
  });
});

describe('a temporary table does not blind a guard', () => {
  const decoy = (table: string) =>
    sql(`CREATE TEMP TABLE ${table} (LIKE public.${table}) ON COMMIT DROP`);
  const real = (statements: Statement[]) =>
    statements.map(({ text, values }) => ({
      text: text.replace(/^(INSERT INTO|UPDATE) /, '$1 public.'),
      values,
    }));
  const number = 310;

  it('of a state: a draft is not accepted', async () => {
    const refusal = await attemptAs('evenhand_app', [
      decoy('quote_state'),
      sql(`INSERT INTO pg_temp.quote_state VALUES ($1, 1, 'issued', 1, now())`, [id(quotes.draft)]),
      ...real([acceptanceRow(quotes.draft)]),
    ]);
    expect(refusal).toEqual({ sqlState: check, constraint: 'quote_acceptance_while_issued' });
  });

  it('of a paper: nothing is issued without it', async () => {
    const refusal = await attemptAs('evenhand_app', [
      decoy('quote_issue'),
      sql(
        'INSERT INTO pg_temp.quote_issue SELECT $1, 1, i.issued_at, i.issued_by_id, i.valid_until, i.content_hash, i.paper FROM public.quote_issue i LIMIT 1',
        [id(quotes.draft)],
      ),
      ...real([moveTo(quotes.draft, 'issued')]),
    ]);
    expect(refusal).toEqual({ sqlState: check, constraint: 'quote_state_needs_record' });
  });

  it('of lines: a total is the sum of the real ones', async () => {
    const line = lineRow({ option_id: optionId(number), position: 1, amount_cents: 1 });
    const says = { line_count: 1, total_cents: 1, tax_cents: 0 };
    const refusal = await attemptAs('evenhand_app', [
      decoy('quote_line'),
      { ...line, text: line.text.replace('quote_line', 'pg_temp.quote_line') },
      ...real(draftRows({ number, options: [{ says, lines: [] }] })),
    ]);
    expect(refusal).toEqual({ sqlState: check, constraint: 'quote_option_line_count' });
  });

  it('of findings: an unproven one carries no price', async () => {
    const lines = [
      { key: 'labor', kind: 'labor', amount_cents: 10_000, finding_ids: [ids.unproven] },
    ];
    const refusal = await attemptAs('evenhand_app', [
      decoy('finding'),
      sql('INSERT INTO pg_temp.finding SELECT * FROM public.finding'),
      sql('UPDATE pg_temp.finding SET priceable = true'),
      ...real(draftRows({ number, options: [{ lines }] })),
    ]);
    expect(refusal).toEqual({ sqlState: check, constraint: 'quote_line_needs_evidence' });
  });
});

describe('the reports', () => {
  it.each(['staff_token', 'idempotency_key', 'quote_link'])('do not see %s', async (table) => {
    const refusal = await attemptAs('evenhand_read', [sql(`SELECT count(*) FROM ${table}`)]);
    expect(refusal?.sqlState).toBe(denied);
  });

  it('read everything else and write nothing', async () => {
    const readable = Object.entries(privileges).filter(([, held]) => held.evenhand_read === 'r');
    for (const [table] of readable) {
      const column = await firstColumnOf(table);
      expect(await attemptAs('evenhand_read', [sql(`SELECT * FROM ${table}`)])).toBeUndefined();
      for (const statement of [
        `INSERT INTO ${table} DEFAULT VALUES`,
        `UPDATE ${table} SET ${column} = ${column}`,
        `DELETE FROM ${table}`,
      ]) {
        const refusal = await attemptAs('evenhand_read', [sql(statement)]);
        expect(refusal?.sqlState, statement).toBe(denied);
      }
    }
  });
});

async function attemptAs(role: Role, statements: Statement[]): Promise<Refusal | undefined> {
  const client = await logins[role].connect();
  try {
    await client.query('BEGIN');
    for (const statement of statements) await client.query(statement);
    await client.query('SET CONSTRAINTS ALL IMMEDIATE');
    return undefined;
  } catch (error) {
    return refusalOf(error);
  } finally {
    await client.query('ROLLBACK');
    client.release();
  }
}

async function joinAs(role: Role): Promise<pg.Pool> {
  const password = randomBytes(12).toString('hex');
  await database.owner.query(
    `CREATE ROLE ${loginNames[role]} LOGIN PASSWORD '${password}' IN ROLE ${role}`,
  );
  const url = new URL(database.url);
  url.username = loginNames[role];
  url.password = password;
  const pool = new pg.Pool({ connectionString: url.toString(), max: 2 });
  pool.on('error', () => undefined);
  return pool;
}

function loginName(): string {
  return `evenhand_login_${randomBytes(6).toString('hex')}`;
}

async function firstColumnOf(table: string): Promise<string> {
  const first = await database.owner.query<{ name: string }>(
    'SELECT attname AS name FROM pg_attribute WHERE attrelid = $1::regclass AND attnum = 1',
    [table],
  );
  return first.rows[0]?.name ?? '';
}

const PRIVILEGES = `
  SELECT c.relname AS name, coalesce((
    SELECT string_agg(letter, '' ORDER BY rank) FROM (VALUES
      (1, 'r', 'SELECT'), (2, 'a', 'INSERT'), (3, 'w', 'UPDATE'), (4, 'd', 'DELETE'),
      (5, 'D', 'TRUNCATE'), (6, 'x', 'REFERENCES'), (7, 't', 'TRIGGER'), (8, 'm', 'MAINTAIN')
    ) AS known (rank, letter, privilege)
    WHERE has_table_privilege($1, c.oid, privilege)), '') AS letters
  FROM pg_class c
  WHERE c.relnamespace = 'public'::regnamespace AND c.relkind IN ('r', 'v', 'm', 'p', 'f')
  ORDER BY c.relname COLLATE "C"`;
