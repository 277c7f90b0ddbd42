import type { z } from 'zod';
import { inTx } from '../platform/database/in-tx.ts';
import { notFound } from '../platform/http/problem.ts';
import type { EntranceContext, EntranceReply } from '../platform/http/route.ts';
import { actorOf } from './actor-of.ts';
import type { endSessionSchema, signedOutSchema } from './contract.ts';
import { doerOf } from './doer-of.ts';
import { endSessions } from './end-sessions.ts';
import { readOwnSession } from './list-own-sessions.ts';
import { lockStaff } from './lock-staff.ts';
import { ownAccount, requireOwnPassword, wrongPassword } from './require-own-password.ts';

/**
 * Ends one session of whoever asks, once they have shown their password: with a session that somebody
 * left open, nobody throws its owner out elsewhere.
 * @throws ProblemError 404 for one that is over, somebody else's or none at all, before the password is
 *   looked at; 400 for a wrong password, 429 where it was tried too often
 */
export async function endOwnSession(
  context: EntranceContext,
  sessionId: string,
  { password }: z.output<typeof endSessionSchema>,
): Promise<EntranceReply<z.input<typeof signedOutSchema>>> {
  const { db, now } = context;
  const actor = actorOf(context);
  const { isThisOne } = await inTx(db, (tx) =>
    readOwnSession({ prisma: tx, actor, now }, sessionId),
  );
  const kept = await ownAccount(context);
  await requireOwnPassword(context, kept, password);
  const sessionsEnded = await inTx(db, async (tx) => {
    const staff = await lockStaff(tx, actor.id);
    // A password that was changed since it was looked at has ended them all.
    if (staff?.hash !== kept.hash) throw wrongPassword();
    const doer = doerOf(context, tx, actor);
    return endSessions(doer, actor.id, 'ended_one', { onlyId: sessionId });
  });
  // Of two who end it at once, the second finds it ended.
  if (sessionsEnded === 0) throw notFound('session');
  return { body: { sessionsEnded }, ...(isThisOne && { isLeft: true }) };
}
