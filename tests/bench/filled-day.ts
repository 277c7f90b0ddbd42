import type pg from 'pg';
import { idOf } from './grown-company.ts';

/** What a day holds that is measured: the same beside little and beside much of the past. */
export const filledDay = {
  day: '2026-08-18',
  /** One in the afternoon on the company's clock. */
  now: new Date('2026-08-18T18:00:00Z'),
  technicians: 20,
  visitsEach: 6,
  waiting: 60,
} as const;

/**
 * Fills one day: technicians with their hours and six visits each, at sites of the many that are
 * there, and tickets that wait. The triggers are off, because nothing here is a story.
 */
export async function fillDay(client: pg.Client): Promise<void> {
  const { day, technicians, visitsEach, waiting } = filledDay;
  await client.query('SET session_replication_role = replica');
  await client.query(TECHNICIANS, [technicians]);
  await client.query(HOURS);
  await client.query(TICKETS, [technicians * visitsEach, waiting, day]);
  await client.query(VISITS, [technicians, visitsEach, day]);
  await client.query(PARTS);
  await client.query(BASE);
  await client.query('RESET session_replication_role');
  await client.query('VACUUM ANALYZE');
}

const TECHNICIANS = `
  INSERT INTO staff (id, name, role, epa608_type, epa608_number, version, created_at)
  SELECT ${idOf(10, 'n')}, 'Technician ' || n, 'technician', 'universal', 'INVENTED-' || n, 1, now()
  FROM generate_series(1, $1::int) n`;

const HOURS = `
  INSERT INTO work_week (id, technician_id, valid_from, hours, created_at, created_by_id)
  SELECT gen_random_uuid(), t.id, '2026-01-01', (
    SELECT json_agg(json_build_object('weekday', d, 'startMinute', 480, 'endMinute', 1080))
    FROM generate_series(1, 7) d), now(), t.id
  FROM staff t WHERE t.role = 'technician'`;

// The first are visited that day, the others wait; every third of those for a part.
const TICKETS = `
  INSERT INTO ticket (id, site_id, caller_id, complaint, symptoms, state, version, created_at,
    created_by_id)
  SELECT ${idOf(13, 'n')}, ${idOf(2, '1 + n * 7919 % 5000')}, ${idOf(1, '1 + n * 7919 % 5000')},
    'It blows warm air.', '{no_cooling}',
    (CASE WHEN n <= $1 THEN 'scheduled' WHEN n % 3 = 0 THEN 'waiting_for_part' ELSE 'new' END)::ticket_state,
    1, $3::date + n * interval '1 minute', office.id
  FROM generate_series(1, $1::int + $2::int) n,
    (SELECT id FROM staff WHERE role = 'dispatcher' LIMIT 1) office`;

const VISITS = `
  INSERT INTO visit (id, ticket_id, technician_id, window_start, window_end, planned_start,
    planned_end, state, period_code, fee_cents, fee_agreed_by, fee_agreed_at, price_book_version_id,
    arrived_at, version, created_at)
  SELECT ${idOf(14, 'n')}, ${idOf(13, 'n')}, ${idOf(10, '1 + (n - 1) / $2::int')}, start,
    start + interval '2 hours', start, start + interval '75 minutes',
    (CASE WHEN slot < 2 THEN 'finished' WHEN slot = 2 THEN 'on_site' ELSE 'booked' END)::visit_state,
    'regular', 8900, 'Somebody', start, book.id,
    CASE WHEN slot <= 2 THEN start + interval '10 minutes' END, 4, start
  FROM (SELECT n, (n - 1) % $2::int AS slot,
      $3::date + interval '13 hours' + (n - 1) % $2::int * interval '100 minutes' AS start
    FROM generate_series(1, $1::int * $2::int) n) planned,
    (SELECT id FROM price_book_version LIMIT 1) book`;

const PARTS = `
  INSERT INTO part_wait (id, ticket_id, waiting_for, part_code, promised_on, told_to, recorded_at,
    recorded_by_id)
  SELECT gen_random_uuid(), t.id, 'The capacitor', 'CAP-45-5-440', '2026-08-20', 'Somebody',
    t.created_at, t.created_by_id
  FROM ticket t WHERE t.state = 'waiting_for_part'`;

const BASE = `
  INSERT INTO dispatch_policy (id, road_factor, mph, park_minutes, windows, usual_minutes,
    base_latitude_deg, base_longitude_deg)
  VALUES (1, 1.3, 28, 5, '[{"startMinute":480,"endMinute":600}]', 75, 41.6, -93.6)`;
