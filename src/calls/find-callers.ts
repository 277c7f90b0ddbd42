import type { z } from 'zod';
import { patternsOf, plainName } from '../customers/index.ts';
import type { PooledSql } from '../platform/database/database.ts';
import type { callersSchema } from './contract.ts';
import { streetForms } from './street-forms.ts';

type CallerBody = z.input<typeof callersSchema>['items'][number];

/** More than a dispatcher reads while somebody talks. */
const CALLERS_MAX = 20;
/** The rest of a landlord's sites is listed by `GET /v1/sites?customerId=`. */
const SITES_MAX = 10;

/**
 * Who may be calling: people whose phone, name or street holds what was heard, best first: a number
 * that ends so, a name or street that begins so, then the others. Case, accents, two swapped letters
 * and "St" for "Street" do not matter. Where nobody holds it, those with a number, name or street
 * like it, a street first among the houses of the same number. Each with the sites that are theirs
 * to live at, decide for or pay for, those that were found first.
 */
export async function findCallers(sql: PooledSql, search: string): Promise<CallerBody[]> {
  const values = findCallersValues(search);
  return (await sql.queryAnew<CallerBody>(findCallersStatement, values)).rows;
}

/** The values of the statement below. */
export function findCallersValues(search: string) {
  const plain = plainName(search).replace(/\s+/g, ' ').trim();
  const digits = dialed(search);
  const [said = plain, ...others] = streetForms(plain);
  const { ofHouse, street } = apart(said);
  // Two or three letters are like too many.
  const isGuessable = (plain.match(/\p{L}/gu) ?? []).length >= 4;
  return [
    plain,
    patternsOf(plain),
    digits,
    // Fewer digits than a whole number has are like too many.
    digits !== null && digits.length >= 7 ? patternsOf(digits) : [],
    [said, ...others],
    [...patternsOf(said), ...others.flatMap((form) => patternsOf(form).slice(0, 1))],
    ofHouse,
    isGuessable ? street : null,
    CALLERS_MAX,
    SITES_MAX,
    isGuessable && digits === null ? plain : null,
  ];
}

/**
 * The digits of what may be part of a phone number: a house number is digits too, but has letters
 * after it. The 1 that is dialed before a number of ten digits is not part of it.
 */
function dialed(search: string): string | null {
  const digits = search.replace(/\D/g, '');
  if (digits.length < 4 || /\p{L}/u.test(search)) return null;
  return /^1\d{10}$/.test(digits) ? digits.slice(1) : digits;
}

/** What begins like a street of that house number, and the street without it; digits are no street. */
function apart(form: string): { ofHouse: string | null; street: string | null } {
  if (!/\p{L}/u.test(form)) return { ofHouse: null, street: null };
  const [, house, street = form] = /^(\d+[a-z]?) (.*\p{L}.*)$/u.exec(form) ?? [];
  return { ofHouse: house === undefined ? null : `${house} %`, street };
}

// The lower the place, the better; from 4 on nobody holds it as it was typed, and nobody of those is
// told beside somebody who does. Materialized for the same reason as in the search for customers: the planner takes likeness for
// common. What is like something is looked for only where nobody holds it; a street heard with a
// house number among the houses of that number, which are few, before it is looked for anywhere.
export const findCallersStatement = `
  WITH held_street AS MATERIALIZED (
    SELECT id, occupant_id, approver_id, payer_id, CASE
      WHEN street_search = ANY ($5::text[]) THEN 0
      WHEN EXISTS (SELECT 1 FROM unnest($5::text[]) f WHERE starts_with(street_search, f)) THEN 1
      WHEN EXISTS (SELECT 1 FROM unnest($5::text[]) f WHERE strpos(street_search, f) > 0) THEN 3
      WHEN street_search LIKE $7 THEN 4 ELSE 5 END AS place
    FROM site WHERE street_search LIKE ANY ($6::text[])
  ), held_person AS MATERIALIZED (
    SELECT id, 'phone' AS by, CASE WHEN right(phone_digits, length($3)) = $3 THEN 0 ELSE 2 END AS place
    FROM customer WHERE $3::text IS NOT NULL AND phone_digits LIKE '%' || $3 || '%'
    UNION ALL SELECT id, CASE WHEN strpos(name_search, $1) > 0 THEN 'name' ELSE 'name_alike' END,
      CASE WHEN name_search = $1 THEN 0
        WHEN starts_with(name_search, $1) OR strpos(name_search, ' ' || $1) > 0 THEN 1
        WHEN strpos(name_search, $1) > 0 THEN 3 ELSE 4 END
    FROM customer WHERE name_search LIKE ANY ($2::text[])
  ), nobody AS MATERIALIZED (
    SELECT WHERE NOT EXISTS (SELECT 1 FROM held_street) AND NOT EXISTS (SELECT 1 FROM held_person)
  ), like_person AS MATERIALIZED (
    SELECT id, 'phone_alike' AS by, 10 AS place
    FROM customer WHERE phone_digits LIKE ANY ($4::text[]) AND EXISTS (SELECT 1 FROM nobody)
    UNION ALL SELECT id, 'name_alike', 11 - word_similarity($11, name_search)
    FROM customer WHERE $11::text <% name_search AND EXISTS (SELECT 1 FROM nobody)
  ), near_street AS MATERIALIZED (
    SELECT id, occupant_id, approver_id, payer_id, 11 - word_similarity($8, street_search) AS place
    FROM site WHERE street_search LIKE $7 AND $8::text <% street_search
      AND EXISTS (SELECT 1 FROM nobody)
  ), like_street AS MATERIALIZED (
    SELECT id, occupant_id, approver_id, payer_id, 21 - word_similarity($8, street_search) AS place
    FROM site WHERE $8::text <% street_search AND NOT EXISTS (SELECT 1 FROM near_street)
      AND EXISTS (SELECT 1 FROM nobody)
  ), street AS (
    SELECT *, CASE WHEN place < 4 THEN 'street' ELSE 'street_alike' END AS by FROM held_street
    UNION ALL SELECT *, 'street_alike' FROM near_street
    UNION ALL SELECT *, 'street_alike' FROM like_street
  ), found AS (
    SELECT id, by, place, NULL::uuid AS site_id FROM held_person
    UNION ALL SELECT id, by, place, NULL FROM like_person
    UNION ALL SELECT occupant_id, by, place, id FROM street
    UNION ALL SELECT approver_id, by, place + 0.01, id FROM street
    UNION ALL SELECT payer_id, by, place + 0.02, id FROM street
  ), best AS (
    SELECT id, (array_agg(by ORDER BY place, by))[1] AS by, min(place) AS place,
      array_agg(site_id ORDER BY place) FILTER (WHERE site_id IS NOT NULL) AS sites
    FROM found WHERE place < 4 OR (SELECT min(place) FROM found) >= 4
    GROUP BY id ORDER BY min(place), id LIMIT $9::int
  )
  SELECT c.id, c.name, c.phone, c.email, c.language, best.by AS "foundBy", theirs.sites
  FROM best JOIN customer c USING (id) CROSS JOIN LATERAL (
    SELECT coalesce(json_agg(json_build_object('id', id, 'street', street, 'unit', unit,
      'city', city, 'roles', roles) ORDER BY nth, id), '[]') AS sites
    FROM (SELECT s.id, s.street, s.unit, s.city, array_position(best.sites, s.id) AS nth,
        array_remove(ARRAY[CASE WHEN s.occupant_id = c.id THEN 'occupant' END,
          CASE WHEN s.approver_id = c.id THEN 'approver' END,
          CASE WHEN s.payer_id = c.id THEN 'payer' END], NULL) AS roles
      FROM site s WHERE s.occupant_id = c.id OR s.approver_id = c.id OR s.payer_id = c.id
      ORDER BY nth, s.id LIMIT $10::int) shown) theirs
  ORDER BY best.place, c.id`;
