import type { z } from 'zod';
import { inTx } from '../platform/database/in-tx.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { EntranceContext, EntranceReply } from '../platform/http/route.ts';
import { actorOf } from './actor-of.ts';
import { checkCode, wrongCode } from './check-code.ts';
import type { removeSecondFactorSchema, secondFactorStateSchema } from './contract.ts';
import { doerOf } from './doer-of.ts';
import { endSecondFactor } from './end-second-factor.ts';
import { lockStaff } from './lock-staff.ts';
import { forgive, paceOfCodes } from './pace-sign-in.ts';
import { ownAccount, requireOwnPassword, wrongPassword } from './require-own-password.ts';
import { factorInForce } from './second-factor-of.ts';
import { spendCode } from './spend-code.ts';

/**
 * Takes the own second factor away, for who shows their password and a code: also to turn it on anew
 * with another phone.
 * @throws ProblemError 400 for a wrong password or code, 409 where none is on, 429 for too many tries
 */
export async function removeOwnSecondFactor(
  context: EntranceContext,
  { password, code }: z.output<typeof removeSecondFactorSchema>,
): Promise<EntranceReply<z.input<typeof secondFactorStateSchema>>> {
  const actor = actorOf(context);
  const kept = await ownAccount(context);
  const factor = await factorInForce(context.sql, actor.id);
  if (factor === undefined) throw isOff('Your second factor is not on.');
  await requireOwnPassword(context, kept, password);
  const right = await checkCode(context, actor.id, factor, code);
  if (right === undefined) throw wrongCode();
  await inTx(context.db, async (tx) => {
    const staff = await lockStaff(tx, actor.id);
    if (staff === undefined || staff.isDisabled || staff.hash !== kept.hash) throw wrongPassword();
    if (!(await spendCode(tx, right, context.now))) throw wrongCode();
    await endSecondFactor(doerOf(context, tx, actor), actor.id, 'by_themselves');
    await forgive(tx, [paceOfCodes(actor.id)]);
  });
  return { body: { isOn: false, recoveryCodesLeft: 0 } };
}

/** The refusal where there is nothing to take away. */
export function isOff(detail: string): ProblemError {
  return new ProblemError('not-allowed-now', detail, {
    currentState: 'off',
    allowedActions: ['begin'],
  });
}
