import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import { sqlOf, type Tx } from '../platform/database/database.ts';
import type { Company } from '../platform/database/generated/client.ts';
import { lockRow } from '../platform/database/lock-row.ts';
import { versionTag } from '../platform/http/etag.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { companyOf } from './company-of.ts';
import type { companyChangeSchema } from './contract.ts';
import { requireKnownZone } from './require-known-zone.ts';

/**
 * Changes what the company says of itself. Papers that are out keep what they say.
 * @throws ProblemError 412 when somebody else changed it first; 409 for another time zone when days
 *   have been told by the present one; 400 for one that the database does not know
 */
export async function changeCompany(
  act: ActContext,
  change: z.output<typeof companyChangeSchema>,
): Promise<Company> {
  const { tx } = act;
  // The row lock makes two changes that arrive together wait; the second then fails its If-Match.
  await lockRow(tx, 'company', '1');
  const before = await companyOf(tx);
  act.mustMatch(versionTag(before.version));
  const { timeZone = before.timeZone } = change;
  if (timeZone !== before.timeZone) {
    await requireKnownZone(tx, timeZone);
    await requireNoDaysYet(tx);
  }
  const given = Object.entries(change).filter(([, value]) => value !== undefined);
  const after = await tx.company.update({
    where: { id: 1 },
    data: { ...Object.fromEntries(given), version: before.version + 1 },
  });
  await appendJournal(act, {
    event: 'company.changed',
    subject: { kind: 'company', id: '1' },
    before: said(before),
    after: said(after),
  });
  return after;
}

function said({ id: _, version: __, ...rest }: Company) {
  return rest;
}

/** A price book, a tax rule and a visit each begin or end at a midnight of the company's clock. */
async function requireNoDaysYet(tx: Tx): Promise<void> {
  const { rows } = await sqlOf(tx).query<{ has: boolean }>(HAS_DAYS);
  if (rows[0]?.has !== true) return;
  throw new ProblemError(
    'not-allowed-now',
    'Days have been told by this time zone: it can no longer be another one.',
    { currentState: 'at_work', allowedActions: [] },
  );
}

const HAS_DAYS = `
  SELECT EXISTS (SELECT FROM price_book_version) OR EXISTS (SELECT FROM tax_rule)
    OR EXISTS (SELECT FROM customer) AS has`;
