import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import type { Site } from '../platform/database/generated/client.ts';
import { lockRow } from '../platform/database/lock-row.ts';
import { notFound } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { addressOf } from './address-of.ts';
import { type SiteWithMachines, siteTag, withMachines } from './answer-site.ts';
import type { siteChangeSchema } from './contract.ts';
import { requireCustomers } from './require-customers.ts';
import { requireJurisdiction } from './require-jurisdiction.ts';

/**
 * Changes a site. Quotes already issued keep the tax and the names they were issued with.
 * @throws ProblemError 404, 412 when somebody else changed it first, 422 for an approver or payer
 *   that does not exist and for a jurisdiction without a tax rule
 */
export async function changeSite(
  act: ActContext,
  id: string,
  change: z.output<typeof siteChangeSchema>,
): Promise<SiteWithMachines> {
  // The row lock makes two changes that arrive together wait; the second then fails its If-Match.
  await lockRow(act.tx, 'site', id);
  const before = await act.tx.site.findUnique({
    where: { id },
    include: { ...withMachines, occupant: { select: { journalSalt: true } } },
  });
  if (before === null) throw notFound('site');
  act.mustMatch(siteTag(before));
  const { approverId, payerId, jurisdiction } = change;
  await requireCustomers(act, { ...(approverId && { approverId }), ...(payerId && { payerId }) });
  if (jurisdiction !== before.jurisdiction) await requireJurisdiction(act, jurisdiction);
  const after = await act.tx.site.update({
    where: { id },
    data: { ...given(change), version: before.version + 1 },
    include: withMachines,
  });
  await appendJournal(act, {
    event: 'site.changed',
    subject: { kind: 'site', id },
    before: termsOf(before),
    after: termsOf(after),
    personal: {
      salt: before.occupant.journalSalt,
      before: addressOf(before),
      after: addressOf(after),
    },
  });
  return after;
}

/** A place is given, or emptied, as a whole. */
function given({ place, ...change }: z.output<typeof siteChangeSchema>): object {
  const columns = place === null ? { latitudeDeg: null, longitudeDeg: null } : place;
  return Object.fromEntries(
    Object.entries({ ...change, ...columns }).filter(([, value]) => value !== undefined),
  );
}

function termsOf({ jurisdiction, altitudeFt, approverId, approverLimitCents, payerId }: Site) {
  return { jurisdiction, altitudeFt, approverId, approverLimitCents, payerId };
}
