import { appendJournal } from '../journal/index.ts';
import type { HelperDays } from '../platform/database/generated/client.ts';
import { notFound } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import type { Pair } from './helpers-on.ts';
import { refuseTakenBack } from './refuse-taken-back.ts';

/**
 * Takes days of a helper back; for the days that are left, new ones are written down.
 * @throws ProblemError 404, 409 when they were taken back before
 */
export async function endHelper(
  act: ActContext,
  { technicianId, helperDaysId }: { technicianId: string; helperDaysId: string },
): Promise<HelperDays & Pair> {
  const of = { id: helperDaysId, technicianId };
  const named = { select: { id: true, name: true } };
  const days = await act.tx.helperDays.findUnique({
    where: of,
    include: { helper: named, technician: named },
  });
  if (days === null) throw notFound('helper');
  const open = { ...of, withdrawnAt: null };
  refuseTakenBack(
    await act.tx.helperDays.updateMany({ where: open, data: { withdrawnAt: act.now } }),
  );
  await appendJournal(act, {
    event: 'helper.ended',
    subject: { kind: 'helper_days', id: helperDaysId },
    after: { helperId: days.helperId, technicianId },
  });
  return { ...days, withdrawnAt: act.now };
}
