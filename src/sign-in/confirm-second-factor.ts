import type { z } from 'zod';
import { appendJournal, type Doer } from '../journal/index.ts';
import { inTx } from '../platform/database/in-tx.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { EntranceContext, EntranceReply } from '../platform/http/route.ts';
import { actorOf } from './actor-of.ts';
import { isOnAlready } from './begin-second-factor.ts';
import { checkCode, type RightCode, wrongCode } from './check-code.ts';
import type { confirmedSecondFactorSchema, confirmSecondFactorSchema } from './contract.ts';
import { doerOf } from './doer-of.ts';
import { endSessions } from './end-sessions.ts';
import { lockStaff } from './lock-staff.ts';
import { newRecoveryCodes, type RecoveryCode } from './new-recovery-codes.ts';
import { forgive, paceOfCodes } from './pace-sign-in.ts';
import { secondFactorOf } from './second-factor-of.ts';

/**
 * Turns the second factor on that whoever asks has begun, once a code shows that their app has the
 * secret, and tells the recovery codes once. Their other sessions began without a code, so they end.
 * @throws ProblemError 400 for a wrong code, 409 where none was begun, 429 where it was tried too often
 */
export async function confirmSecondFactor(
  context: EntranceContext,
  { code }: z.output<typeof confirmSecondFactorSchema>,
): Promise<EntranceReply<z.input<typeof confirmedSecondFactorSchema>>> {
  const actor = actorOf(context);
  const factor = await secondFactorOf(context.sql, actor.id);
  if (factor === undefined) throw notBegun();
  if (factor.isOn) throw isOnAlready();
  const right = await checkCode(context, actor.id, factor, code);
  if (right?.kind !== 'of_app') throw wrongCode();
  const recoveryCodes = await newRecoveryCodes();
  await inTx(context.db, async (tx) => {
    await lockStaff(tx, actor.id);
    const doer = doerOf(context, tx, actor);
    await turnOn(doer, actor.id, right, recoveryCodes);
    await endSessions(doer, actor.id, 'second_factor_on', { but: context.shownHash });
    await forgive(tx, [paceOfCodes(actor.id)]);
  });
  return { body: { recoveryCodes: recoveryCodes.map((each) => each.code) } };
}

async function turnOn(
  doer: Doer,
  staffId: string,
  { factorId, step }: Extract<RightCode, { kind: 'of_app' }>,
  codes: readonly RecoveryCode[],
): Promise<void> {
  const { count } = await doer.tx.staffSecondFactor.updateMany({
    where: { id: factorId, confirmedAt: null, endedAt: null },
    data: { confirmedAt: doer.now, lastStep: step },
  });
  // Meanwhile another one was begun, or this one was turned on.
  if (count === 0) throw notBegun();
  await doer.tx.staffRecoveryCode.createMany({
    data: codes.map(({ place, hash }) => ({ secondFactorId: factorId, place, hash })),
  });
  await appendJournal(doer, {
    event: 'second_factor.turned_on',
    subject: { kind: 'staff', id: staffId },
  });
}

function notBegun(): ProblemError {
  return new ProblemError('not-allowed-now', 'Begin first: that makes the secret for your app.', {
    currentState: 'off',
    allowedActions: ['begin'],
  });
}
