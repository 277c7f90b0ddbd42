import { appendJournal } from '../journal/index.ts';
import type { WorkAbsence } from '../platform/database/generated/client.ts';
import { notFound } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { refuseTakenBack } from './refuse-taken-back.ts';

/**
 * Takes an absence back: the hours are again what they were without it.
 * @throws ProblemError 404, 409 when it was taken back before
 */
export async function withdrawAbsence(
  act: ActContext,
  { technicianId, absenceId }: { technicianId: string; absenceId: string },
): Promise<WorkAbsence> {
  const of = { id: absenceId, technicianId };
  const absence = await act.tx.workAbsence.findUnique({ where: of });
  if (absence === null) throw notFound('absence');
  const open = { ...of, withdrawnAt: null };
  refuseTakenBack(
    await act.tx.workAbsence.updateMany({ where: open, data: { withdrawnAt: act.now } }),
  );
  await appendJournal(act, {
    event: 'absence.withdrawn',
    subject: { kind: 'absence', id: absenceId },
    after: { technicianId },
  });
  return { ...absence, withdrawnAt: act.now };
}
