import type { z } from 'zod';
import { notFound, ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import type { invitationSchema } from './contract.ts';
import { lockStaff } from './lock-staff.ts';
import { makeLink } from './make-link.ts';

/**
 * Makes another link for somebody who let theirs grow old, or forgot their password. The password
 * they have goes on until they set another.
 * @throws ProblemError 404 for nobody, 409 for somebody who is disabled
 */
export async function renewLink(
  act: ActContext,
  staffId: string,
): Promise<z.input<typeof invitationSchema>> {
  const staff = await lockStaff(act.tx, staffId);
  if (staff === undefined) throw notFound('person');
  if (staff.isDisabled) {
    throw new ProblemError('not-allowed-now', 'Enable them first; then make the link.', {
      currentState: 'disabled',
      allowedActions: ['enable'],
    });
  }
  if (staff.email === null) {
    throw new ProblemError('not-allowed-now', 'They have no e-mail to sign in with.', {
      currentState: 'no_email',
      allowedActions: [],
    });
  }
  const purpose = staff.hash === null ? 'invitation' : 'new_password';
  const { token, expiresAt } = await makeLink(act, purpose, staffId);
  return { staffId, token, expiresAt: expiresAt.toISOString() };
}
