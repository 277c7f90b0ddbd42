import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import { dateOfDay } from '../platform/calendar-day.ts';
import type { Certificate } from '../platform/database/generated/client.ts';
import type { ActContext } from '../platform/http/route.ts';
import type { newCertificateSchema } from './contract.ts';
import { technicianOf } from './technician-of.ts';

/**
 * Puts a certificate of a technician on record. The one under Section 608 stands with the person:
 * it is what the law asks before gauges are attached, and it does not expire.
 * @throws ProblemError 404
 */
export async function addCertificate(
  act: ActContext,
  technicianId: string,
  { kind, number, issuedOn, expiresOn }: z.output<typeof newCertificateSchema>,
): Promise<Certificate> {
  await technicianOf(act.tx, act.actor, technicianId);
  const certificate = await act.tx.certificate.create({
    data: {
      id: act.newId(),
      staffId: technicianId,
      ...{ kind, number },
      issuedOn: dateOfDay(issuedOn),
      expiresOn: expiresOn === undefined ? null : dateOfDay(expiresOn),
      createdAt: act.now,
      createdById: act.actor.id,
    },
  });
  await appendJournal(act, {
    event: 'certificate.added',
    subject: { kind: 'certificate', id: certificate.id },
    after: { technicianId, kind, issuedOn, expiresOn: expiresOn ?? null },
  });
  return certificate;
}
