import type { z } from 'zod';
import { inTx } from '../platform/database/in-tx.ts';
import type { EntranceContext, EntranceReply } from '../platform/http/route.ts';
import { actorOf } from './actor-of.ts';
import type { changePasswordSchema, signedOutSchema } from './contract.ts';
import { doerOf } from './doer-of.ts';
import { hashPassword } from './hash-password.ts';
import { lockStaff } from './lock-staff.ts';
import { requireGoodPassword } from './require-good-password.ts';
import { ownAccount, requireOwnPassword, wrongPassword } from './require-own-password.ts';
import { setPassword } from './set-password.ts';

/**
 * Gives whoever asks another password, once they have shown the present one, and signs them out
 * everywhere: whoever else knew the old one is out as well.
 * @throws ProblemError 400 for a wrong present password or a weak new one, 409 where there is none
 *   yet, 429 where it was tried too often
 */
export async function changePassword(
  context: EntranceContext,
  { password, newPassword }: z.output<typeof changePasswordSchema>,
): Promise<EntranceReply<z.input<typeof signedOutSchema>>> {
  const actor = actorOf(context);
  const kept = await ownAccount(context);
  requireGoodPassword('/newPassword', newPassword, kept);
  await requireOwnPassword(context, kept, password);
  const hash = await hashPassword(newPassword);
  const sessionsEnded = await inTx(context.db, async (tx) => {
    const staff = await lockStaff(tx, actor.id);
    // Of two changes at once the second rests on a password that is no more.
    if (staff === undefined || staff.isDisabled || staff.hash !== kept.hash) throw wrongPassword();
    return setPassword(doerOf(context, tx, actor), actor.id, hash, 'changed');
  });
  return { body: { sessionsEnded }, isLeft: true };
}
