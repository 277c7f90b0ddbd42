import type { PooledSql } from '../platform/database/database.ts';

/** A customer as the search finds it. */
export interface FoundCustomer {
  id: string;
  name: string;
  phone: string;
  email: string | null;
  language: 'en' | 'es';
  version: number;
  createdAt: Date;
}

export interface CustomerFilter {
  search: string | undefined;
  after: string | undefined;
  limit: number;
}

/**
 * Customers whose name holds `search`, or whose phone holds its digits; with no search, all. Case,
 * accents and two letters in the wrong order do not matter. Where nobody's name holds it, those
 * with a word like it: a letter wrong, missing or too many in a longer name. Ordered by identifier,
 * so that pages hold.
 */
export async function findCustomers(
  sql: PooledSql,
  filter: CustomerFilter,
): Promise<FoundCustomer[]> {
  const { search, after, limit } = filter;
  const { rows } =
    search === undefined
      ? await sql.query<FoundCustomer>(everybody, [after ?? null, limit])
      : await sql.queryAnew<FoundCustomer>(findStatement, findValues({ ...filter, search }));
  return rows;
}

/** The values of the statement below. */
export function findValues({ search, after, limit }: CustomerFilter & { search: string }) {
  const digits = search.replace(/\D/g, '');
  const name = plainName(search);
  return [name, patternsOf(name), digits.length >= 4 ? digits : null, after ?? null, limit];
}

/** What holds a plain name, or the name with two neighboring letters swapped, for LIKE ANY. */
export function patternsOf(name: string): string[] {
  return slipsOf(name).map((slip) => `%${literally(slip)}%`);
}

/** The same form the generated column `name_search` has. */
export function plainName(name: string): string {
  return name
    .normalize('NFD')
    .replace(/[\u0300-\u036f]/g, '')
    .toLowerCase()
    .replace(/[ßæœþłøđðı]/g, (letter) => PLAIN_LETTERS[letter] ?? letter);
}

/** Letters that are not a base letter with a mark, as people type them without. */
const PLAIN_LETTERS: Record<string, string> = {
  ß: 'ss',
  æ: 'ae',
  œ: 'oe',
  þ: 'th',
  ł: 'l',
  ø: 'o',
  đ: 'd',
  ð: 'd',
  ı: 'i',
};

/**
 * What may have been meant: the name, and the name with two neighbouring letters swapped, at one
 * place. Swapped letters leave a short name no trigram, so likeness alone would not find it.
 */
function slipsOf(name: string): string[] {
  const letters = [...name];
  if (letters.length < 4 || letters.length > 40) return [name];
  const swapped = letters
    .slice(1)
    .map((letter, at) =>
      [...letters.slice(0, at), letter, letters[at], ...letters.slice(at + 2)].join(''),
    );
  return [...new Set([name, ...swapped])];
}

const columns = 'id, name, phone, email, language, version, created_at AS "createdAt"';

/** A percent sign or underscore somebody typed is looked for, it does not stand for anything. */
function literally(text: string): string {
  return text.replace(/[\\%_]/g, '\\$&');
}

// A plan for any values reads the whole table. Materialized, because the planner takes likeness for
// common: left free, it would walk the table in the order of the page and hope to have it full soon.
// For the same reason those found are not looked up again by their keys.
export const findStatement = `
  WITH held AS MATERIALIZED (
    SELECT ${columns} FROM customer
    WHERE name_search LIKE ANY ($2::text[])
      OR ($3::text IS NOT NULL AND phone_digits LIKE '%' || $3 || '%')
  ), alike AS MATERIALIZED (
    SELECT ${columns} FROM customer
    WHERE $1 <% name_search AND NOT EXISTS (SELECT 1 FROM held)
  )
  SELECT * FROM (TABLE held UNION ALL TABLE alike) found
  WHERE $4::uuid IS NULL OR id > $4::uuid
  ORDER BY id LIMIT $5::int`;

const everybody = `
  SELECT ${columns} FROM customer WHERE $1::uuid IS NULL OR id > $1::uuid ORDER BY id LIMIT $2::int`;
