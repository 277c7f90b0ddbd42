import { appendJournal } from '../journal/index.ts';
import type { Certificate } from '../platform/database/generated/client.ts';
import { notFound } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { refuseTakenBack } from './refuse-taken-back.ts';

/**
 * Takes a certificate off the record: it was a slip, or it is not held any more.
 * @throws ProblemError 404, 409 when it was taken back before
 */
export async function withdrawCertificate(
  act: ActContext,
  { technicianId, certificateId }: { technicianId: string; certificateId: string },
): Promise<Certificate> {
  const of = { id: certificateId, staffId: technicianId };
  const certificate = await act.tx.certificate.findUnique({ where: of });
  if (certificate === null) throw notFound('certificate');
  const open = { ...of, withdrawnAt: null };
  refuseTakenBack(
    await act.tx.certificate.updateMany({ where: open, data: { withdrawnAt: act.now } }),
  );
  await appendJournal(act, {
    event: 'certificate.withdrawn',
    subject: { kind: 'certificate', id: certificateId },
    after: { technicianId },
  });
  return { ...certificate, withdrawnAt: act.now };
}
