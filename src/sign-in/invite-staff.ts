import type { z } from 'zod';
import type { ActContext } from '../platform/http/route.ts';
import { addStaff } from './add-staff.ts';
import type { invitationSchema, inviteSchema } from './contract.ts';
import { makeLink } from './make-link.ts';

/**
 * Adds somebody to the staff and makes the link by which they set their password.
 * @throws ProblemError 409 where somebody has the e-mail already
 */
export async function inviteStaff(
  act: ActContext,
  { phone, ...person }: z.output<typeof inviteSchema>,
): Promise<z.input<typeof invitationSchema>> {
  const { id } = await addStaff(act, { ...person, phone: phone ?? null });
  const { token, expiresAt } = await makeLink(act, 'invitation', id);
  return { staffId: id, token, expiresAt: expiresAt.toISOString() };
}
