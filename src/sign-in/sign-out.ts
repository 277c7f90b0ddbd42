import type { z } from 'zod';
import { inTx } from '../platform/database/in-tx.ts';
import type { EntranceContext, EntranceReply } from '../platform/http/route.ts';
import { actorOf } from './actor-of.ts';
import type { signedOutSchema } from './contract.ts';
import { doerOf } from './doer-of.ts';
import { endSessions } from './end-sessions.ts';

/**
 * Ends the session that asks for it, or every session of whoever asks. The token of a program is no
 * session, and goes on.
 */
export async function signOut(
  context: EntranceContext,
  { everywhere }: { everywhere: boolean },
): Promise<EntranceReply<z.input<typeof signedOutSchema>>> {
  const actor = actorOf(context);
  const sessionsEnded = await inTx(context.db, (tx) => {
    const doer = doerOf(context, tx, actor);
    return everywhere
      ? endSessions(doer, actor.id, 'sign_out_everywhere')
      : endSessions(doer, actor.id, 'sign_out', { only: context.shownHash });
  });
  return { body: { sessionsEnded }, isLeft: true };
}
