import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import { notFound, ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import type { staffAccessSchema } from './contract.ts';
import { lockStaff } from './lock-staff.ts';
import { accessOf } from './staff-access.ts';

/**
 * Lets somebody sign in again who was shut out, with the password they had. What was ended then stays
 * ended.
 * @throws ProblemError 404 for nobody, 409 for somebody who was not shut out
 */
export async function enableStaff(
  act: ActContext,
  staffId: string,
): Promise<z.input<typeof staffAccessSchema>> {
  const staff = await lockStaff(act.tx, staffId);
  if (staff === undefined) throw notFound('person');
  if (!staff.isDisabled) {
    throw new ProblemError('not-allowed-now', 'They are not disabled.', {
      currentState: 'enabled',
      allowedActions: ['disable'],
    });
  }
  await act.tx.staff.update({
    where: { id: staffId },
    data: { disabledAt: null, version: { increment: 1 } },
  });
  await appendJournal(act, { event: 'staff.enabled', subject: { kind: 'staff', id: staffId } });
  return accessOf(act.tx, staffId, act.now);
}
