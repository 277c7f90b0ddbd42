import type pg from 'pg';

/**
 * Adds customers, each with a site: names and streets put together from those that are there. As
 * many as a table of that size needs, not as people move in.
 * @param from how many were added before
 */
export async function addCustomers(client: pg.Client, to: number, from = 0): Promise<void> {
  await client.query(CUSTOMERS, [from, to]);
  await client.query(SITES, [from, to]);
}

/**
 * Adds tickets of the past with a finished visit and a closing each, evenly over the sites that were
 * added above. The triggers are off, because these rows are only there to lie beside others.
 * @param from how many were added before
 */
export async function addPastTickets(
  client: pg.Client,
  { from, to, sites }: { from: number; to: number; sites: number },
): Promise<void> {
  await client.query('SET session_replication_role = replica');
  for (const statement of [TICKETS, VISITS, CLOSINGS]) {
    await client.query(statement, [from, to, ...(statement === TICKETS ? [sites] : [])]);
  }
  await client.query('RESET session_replication_role');
  await client.query('VACUUM ANALYZE');
}

/** Identifiers by number, one row of numbers for each table. */
export const idOf = (table: number, n: string) =>
  `('00000000-0000-4000-8${String(table).padStart(3, '0')}-' || lpad(to_hex(${n}), 12, '0'))::uuid`;

const CUSTOMERS = `
  INSERT INTO customer (id, name, phone, journal_salt, created_at)
  SELECT ${idOf(1, 'n')}, given[1 + n % cardinality(given)] || ' '
      || family[1 + n / cardinality(given) % cardinality(family)],
    '(' || 200 + n % 700 || ') 555-01' || lpad((n / 700 % 100)::text, 2, '0'), '\\x00', now()
  FROM generate_series($1::int + 1, $2::int) n, (
    SELECT array_agg(DISTINCT split_part(name, ' ', 1)) AS given,
      array_agg(DISTINCT split_part(name, ' ', 2)) AS family FROM customer) known`;

const SITES = `
  INSERT INTO site (id, street, city, region, postal_code, jurisdiction, occupant_id, approver_id,
    payer_id, created_at)
  SELECT ${idOf(2, 'n')}, 1 + n::bigint * 7919 % 9899 || ' ' || known[1 + n % cardinality(known)],
    'Wrenfield', 'QX', '00000', 'quill_county', ${idOf(1, 'n')}, ${idOf(1, 'n')}, ${idOf(1, 'n')}, now()
  FROM generate_series($1::int + 1, $2::int) n, (
    SELECT array_agg(DISTINCT regexp_replace(street, '^[0-9]+ ', '')) AS known FROM site) streets`;

const TICKETS = `
  INSERT INTO ticket (id, site_id, caller_id, complaint, symptoms, state, first_closed_at, version,
    created_at, created_by_id)
  SELECT ${idOf(3, 'n')}, ${idOf(2, '1 + n % $3::int')}, ${idOf(1, '1 + n % $3::int')},
    'It blows warm air.', '{no_cooling}', 'closed', at + interval '5 hours', 5, at, office.id
  FROM (SELECT n, timestamptz '2016-01-01' + n % 3600 * interval '1 day' AS at
    FROM generate_series($1::int + 1, $2::int) n) past,
    (SELECT id FROM staff WHERE role = 'dispatcher' LIMIT 1) office`;

const VISITS = `
  INSERT INTO visit (id, ticket_id, technician_id, window_start, window_end, state, period_code,
    fee_cents, fee_agreed_by, fee_agreed_at, price_book_version_id, arrived_at, version, created_at)
  SELECT ${idOf(4, 'n')}, t.id, technicians[1 + n % cardinality(technicians)],
    t.created_at + interval '1 hour', t.created_at + interval '3 hours', 'finished', 'regular', 8900,
    'Somebody', t.created_at, book.id, t.created_at + interval '2 hours', 4, t.created_at
  FROM generate_series($1::int + 1, $2::int) n JOIN ticket t ON t.id = ${idOf(3, 'n')},
    (SELECT array_agg(id) AS technicians FROM staff WHERE role = 'technician') crew,
    (SELECT id FROM price_book_version LIMIT 1) book`;

const CLOSINGS = `
  INSERT INTO ticket_closing (id, ticket_id, sequence, complaint_gone, condition_left, closed_at,
    closed_by_id)
  SELECT ${idOf(5, 'n')}, t.id, 1, 'yes', 'Cooling.', t.first_closed_at, t.created_by_id
  FROM generate_series($1::int + 1, $2::int) n JOIN ticket t ON t.id = ${idOf(3, 'n')}`;
