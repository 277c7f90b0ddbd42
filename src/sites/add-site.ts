import type { z } from 'zod';
import { companyOf } from '../company/index.ts';
import { appendJournal } from '../journal/index.ts';
import type { Site } from '../platform/database/generated/client.ts';
import { unknownReference } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import type { newSiteSchema } from './contract.ts';

/**
 * Adds a site. Occupant, approver and payer may be three people; whoever is not named is the
 * occupant.
 * @throws ProblemError 422 when one of them does not exist
 */
export async function addSite(
  act: ActContext,
  input: z.output<typeof newSiteSchema>,
): Promise<Site> {
  const approverId = input.approverId ?? input.occupantId;
  const payerId = input.payerId ?? input.occupantId;
  await requireCustomers(act, { occupantId: input.occupantId, approverId, payerId });
  const occupant = await act.tx.customer.findUniqueOrThrow({ where: { id: input.occupantId } });
  const site = await act.tx.site.create({
    data: {
      id: act.newId(),
      street: input.street,
      unit: input.unit ?? null,
      city: input.city,
      region: input.region,
      postalCode: input.postalCode,
      jurisdiction: input.jurisdiction ?? (await companyOf(act.tx)).defaultJurisdiction,
      accessNotes: input.accessNotes ?? null,
      occupantId: input.occupantId,
      approverId,
      approverLimitCents: input.approverLimitCents ?? null,
      payerId,
      createdAt: act.now,
    },
  });
  await appendJournal(act, {
    event: 'site.added',
    subject: { kind: 'site', id: site.id },
    after: {
      jurisdiction: site.jurisdiction,
      occupantId: site.occupantId,
      approverId,
      approverLimitCents: site.approverLimitCents,
      payerId,
    },
    personal: { salt: occupant.journalSalt, after: addressOf(site) },
  });
  return site;
}

async function requireCustomers(act: ActContext, named: Record<string, string>): Promise<void> {
  const ids = Object.values(named);
  const found = await act.tx.customer.findMany({
    where: { id: { in: ids } },
    select: { id: true },
  });
  const known = new Set(found.map((customer) => customer.id));
  for (const [field, id] of Object.entries(named)) {
    if (!known.has(id)) throw unknownReference(`/${field}`, 'There is no such customer.');
  }
}

function addressOf({ street, unit, city, region, postalCode, accessNotes }: Site) {
  return { street, unit, city, region, postalCode, accessNotes };
}
