import type { z } from 'zod';
import { companyOf } from '../company/index.ts';
import { appendJournal } from '../journal/index.ts';
import type { ActContext } from '../platform/http/route.ts';
import { addressOf } from './address-of.ts';
import { type SiteWithMachines, withMachines } from './answer-site.ts';
import type { newSiteSchema } from './contract.ts';
import { requireCustomers } from './require-customers.ts';
import { requireJurisdiction } from './require-jurisdiction.ts';

/**
 * Adds a site. Occupant, approver and payer may be three people; whoever is not named is the
 * occupant.
 * @throws ProblemError 422 when one of them does not exist, or no tax rule is for the jurisdiction
 */
export async function addSite(
  act: ActContext,
  input: z.output<typeof newSiteSchema>,
): Promise<SiteWithMachines> {
  const approverId = input.approverId ?? input.occupantId;
  const payerId = input.payerId ?? input.occupantId;
  await requireCustomers(act, { occupantId: input.occupantId, approverId, payerId });
  await requireJurisdiction(act, input.jurisdiction);
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
      altitudeFt: input.altitudeFt ?? null,
      latitudeDeg: input.place?.latitudeDeg ?? null,
      longitudeDeg: input.place?.longitudeDeg ?? null,
      occupantId: input.occupantId,
      approverId,
      approverLimitCents: input.approverLimitCents ?? null,
      payerId,
      createdAt: act.now,
    },
    include: withMachines,
  });
  await appendJournal(act, {
    event: 'site.added',
    subject: { kind: 'site', id: site.id },
    after: {
      jurisdiction: site.jurisdiction,
      altitudeFt: site.altitudeFt,
      occupantId: site.occupantId,
      approverId,
      approverLimitCents: site.approverLimitCents,
      payerId,
    },
    personal: { salt: occupant.journalSalt, after: addressOf(site) },
  });
  return site;
}
