import type { z } from 'zod';
import { companyOf, localDay } from '../company/index.ts';
import { dateOfDay, dayText, plusDays } from '../platform/calendar-day.ts';
import type { ReadContext } from '../platform/http/route.ts';
import { certificateBody } from './bodies.ts';
import type { expiringCertificateSchema } from './contract.ts';
import { isTechnician } from './technician-of.ts';

/** So long before the end somebody has time to renew it. */
const noticeDays = 30;

/**
 * The certificates that have expired or do so within 30 days, the first to expire at the top. What
 * was renewed, by a later one of the same name, is not listed.
 */
export async function expiringCertificates({
  prisma,
  now,
}: Pick<ReadContext, 'prisma' | 'now'>): Promise<z.input<typeof expiringCertificateSchema>[]> {
  const { timeZone } = await companyOf(prisma);
  const today = localDay(now, timeZone);
  const held = await prisma.certificate.findMany({
    where: { withdrawnAt: null, staff: isTechnician },
    orderBy: [{ expiresOn: 'asc' }, { id: 'asc' }],
    include: { staff: { select: { id: true, name: true } } },
  });
  const last = dateOfDay(plusDays(today, noticeDays));
  return held.flatMap(({ staff, ...certificate }) => {
    const { expiresOn } = certificate;
    if (expiresOn === null || expiresOn > last) return [];
    const isRenewed = held.some(
      (other) =>
        other.staffId === certificate.staffId &&
        other.kind === certificate.kind &&
        (other.expiresOn === null || other.expiresOn > expiresOn),
    );
    if (isRenewed) return [];
    const expired = dayText(expiresOn) <= today;
    return [{ ...certificateBody(certificate), technician: staff, expired }];
  });
}
