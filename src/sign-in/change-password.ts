import type { z } from 'zod';
import { inTx } from '../platform/database/in-tx.ts';
import { type ProblemError, wrongField } from '../platform/http/problem.ts';
import type { EntranceContext, EntranceReply } from '../platform/http/route.ts';
import { actorOf } from './actor-of.ts';
import { wrongCode } from './check-code.ts';
import { companyName } from './company-name.ts';
import type { changePasswordSchema, signedOutSchema } from './contract.ts';
import { doerOf } from './doer-of.ts';
import { hashPassword } from './hash-password.ts';
import { lockStaff } from './lock-staff.ts';
import { lookAtCode } from './look-at-code.ts';
import { forgive, paceOfCodes } from './pace-sign-in.ts';
import { requireGoodPassword } from './require-good-password.ts';
import { ownAccount, requireOwnPassword, wrongPassword } from './require-own-password.ts';
import { setPassword } from './set-password.ts';
import { type NotShown, spendLookedAt } from './spend-looked-at.ts';

/**
 * Gives whoever asks another password, once they have shown the present one, and a code where their
 * second factor is on, and signs them out everywhere: whoever else knew the old one is out as well.
 * @throws ProblemError 400 for a wrong present password or a weak new one, and with `codeNeeded` where
 *   only the code is missing or wrong; 409 where there is no password yet, 429 where it was tried too
 *   often
 */
export async function changePassword(
  context: EntranceContext,
  { password, newPassword, code }: z.output<typeof changePasswordSchema>,
): Promise<EntranceReply<z.input<typeof signedOutSchema>>> {
  const actor = actorOf(context);
  const kept = await ownAccount(context);
  const company = await companyName(context.sql);
  requireGoodPassword('/newPassword', newPassword, { ...kept, company });
  await requireOwnPassword(context, kept, password);
  const lookedAt = await lookAtCode(context, actor.id, code);
  const hash = await hashPassword(newPassword);
  const sessionsEnded = await inTx(context.db, async (tx) => {
    const staff = await lockStaff(tx, actor.id);
    // Of two changes at once the second rests on a password that is no more.
    if (staff === undefined || staff.isDisabled || staff.hash !== kept.hash) throw wrongPassword();
    const shown = await spendLookedAt(tx, actor.id, lookedAt, context.now);
    if (shown === 'code_missing' || shown === 'code_wrong') throw codeNeeded(shown);
    await forgive(tx, [paceOfCodes(actor.id)]);
    return setPassword(doerOf(context, tx, actor), actor.id, hash, 'changed');
  });
  return { body: { sessionsEnded }, isLeft: true };
}

/** The refusal for whoever is asked for a code and has shown none that is good. */
function codeNeeded(why: NotShown): ProblemError {
  const problem = why === 'code_wrong' ? wrongCode() : wrongField('/code', 'missing', CODE_MISSING);
  problem.extensions['codeNeeded'] = true;
  return problem;
}

const CODE_MISSING = 'Send a code too: the six digits that your app shows, or a recovery code.';
