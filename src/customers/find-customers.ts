import type { Sql } from '../platform/database/database.ts';

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

/**
 * Customers whose name is like `search`, or whose phone holds its digits; with no search, all.
 * Accents, case and small typing mistakes do not matter. Ordered by identifier, so pages hold.
 */
export async function findCustomers(
  sql: Sql,
  filter: { search: string | undefined; after: string | undefined; limit: number },
): Promise<FoundCustomer[]> {
  const digits = filter.search?.replace(/\D/g, '') ?? '';
  const name = filter.search === undefined ? null : plainName(filter.search);
  const found = await sql.query<FoundCustomer>(FIND, [
    name,
    name === null ? null : `%${literally(name)}%`,
    digits.length >= 4 ? digits : null,
    filter.after ?? null,
    filter.limit,
  ]);
  return found.rows;
}

/** The same form the generated column `name_search` has. */
function plainName(name: string): string {
  return name
    .normalize('NFD')
    .replace(/[\u0300-\u036f]/g, '')
    .toLowerCase();
}

/** A percent sign or underscore somebody typed is looked for, it does not stand for anything. */
function literally(text: string): string {
  return text.replace(/[\\%_]/g, '\\$&');
}

const FIND = `
  SELECT id, name, phone, email, language, version, created_at AS "createdAt"
  FROM customer
  WHERE ($1::text IS NULL OR name_search LIKE $2 OR $1 <% name_search
      OR ($3::text IS NOT NULL AND phone_digits LIKE '%' || $3 || '%'))
    AND ($4::uuid IS NULL OR id > $4)
  ORDER BY id LIMIT $5`;
