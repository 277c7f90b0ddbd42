import type { Doer } from '../journal/index.ts';
import { endSessions } from './end-sessions.ts';

/**
 * Ends the session whose cookie a browser gives up for another one, whoever's it is: on a computer
 * that many use it may be somebody else's, and nobody could sign out of it any more.
 * @param shownHash the hash of that cookie, if the browser showed one
 */
export async function endReplacedSession(
  doer: Doer,
  shownHash: Uint8Array<ArrayBuffer> | undefined,
): Promise<void> {
  if (shownHash === undefined) return;
  const replaced = await doer.tx.staffSession.findUnique({
    where: { tokenHash: shownHash, carrier: 'cookie' },
    select: { staffId: true },
  });
  if (replaced === null) return;
  await endSessions(doer, replaced.staffId, 'signed_in_again', { only: shownHash });
}
