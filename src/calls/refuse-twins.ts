import type { z } from 'zod';
import { plainName } from '../customers/index.ts';
import { type Sql, sqlOf } from '../platform/database/database.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import type { newCallSchema } from './contract.ts';
import { streetForms } from './street-forms.ts';

type NewCall = Pick<z.output<typeof newCallSchema>, 'customer' | 'site' | 'anyway'>;

/**
 * Refuses to make a person whose phone number is known already, or a site with the street and unit
 * of a known one in the same town: most likely the caller is on record. Two calls that would make
 * the same wait for each other on advisory locks of phone and address, the phone always first.
 * @throws ProblemError 409 with who and what is known
 */
export async function refuseTwins(
  { tx }: Pick<ActContext, 'tx'>,
  { customer, site, anyway }: NewCall,
): Promise<void> {
  const sql = sqlOf(tx);
  const customers = 'new' in customer ? await peopleAt(sql, customer.new.phone) : [];
  const sites = 'new' in site ? await sitesAt(sql, site.new) : [];
  if (anyway || customers.length + sites.length === 0) return;
  throw new ProblemError('already-exists', whatIsKnown(customers.length, sites.length), {
    known: { customers, sites },
  });
}

function whatIsKnown(customers: number, sites: number): string {
  const known = [
    ...(customers > 0 ? ['Somebody with this phone number'] : []),
    ...(sites > 0 ? ['this address'] : []),
  ].join(' and ');
  const begun = known.charAt(0).toUpperCase() + known.slice(1);
  return `${begun} is known already; use it, or send \`anyway\` to make another.`;
}

interface Twin {
  id: string;
}

async function peopleAt(sql: Sql, phone: string): Promise<Twin[]> {
  const digits = phone.replace(/\D/g, '').replace(/^1(?=\d{10}$)/, '');
  await sql.query(LOCK, [`phone ${digits}`]);
  return (await sql.query<Twin>(PEOPLE, [[digits, `1${digits}`]])).rows;
}

async function sitesAt(
  sql: Sql,
  {
    street,
    unit,
    city,
    postalCode,
  }: { street: string; unit?: string | undefined; city: string; postalCode: string },
): Promise<Twin[]> {
  const forms = streetForms(plainName(street));
  // What is written out is the same for all who say it otherwise.
  await sql.query(LOCK, [`address ${forms.at(1) ?? forms[0]}`]);
  const stored = forms.flatMap((form) => [form, `${form}.`]);
  return (await sql.query<Twin>(SITES, [stored, unit ?? '', city, postalCode])).rows;
}

const LOCK = 'SELECT pg_advisory_xact_lock(hashtextextended($1, 4))';

const PEOPLE = `
  SELECT id, name, phone FROM customer WHERE phone_digits = ANY ($1::text[]) ORDER BY id LIMIT 5`;

/** "Unit 4", "#4" and "4" are one. */
const sameUnit = (unit: string) =>
  `regexp_replace(lower(coalesce(${unit}, '')), '^(unit|apartment|apt|suite|ste)\\M|[^a-z0-9]', '', 'g')`;

const SITES = `
  SELECT s.id, s.street, s.unit, s.city, s.occupant_id AS "occupantId", o.name AS "occupantName"
  FROM site s JOIN customer o ON o.id = s.occupant_id
  WHERE s.street_search = ANY ($1::text[]) AND ${sameUnit('s.unit')} = ${sameUnit('$2::text')}
    AND (lower(s.city) = lower($3) OR s.postal_code = $4)
  ORDER BY s.id LIMIT 5`;
