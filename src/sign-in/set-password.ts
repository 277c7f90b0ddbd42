import { appendJournal, type Doer } from '../journal/index.ts';
import { endSessions } from './end-sessions.ts';

/**
 * Keeps the hash of a password of somebody who is locked, and ends their sessions.
 * @returns how many ended
 */
export async function setPassword(
  doer: Doer,
  staffId: string,
  hash: string,
  cause: 'changed' | 'by_link',
): Promise<number> {
  const kept = { hash, changedAt: doer.now };
  await doer.tx.staffPassword.upsert({
    where: { staffId },
    create: { staffId, ...kept },
    update: kept,
  });
  await appendJournal(doer, {
    event: 'password.set',
    subject: { kind: 'staff', id: staffId },
    after: { cause },
  });
  return endSessions(doer, staffId, 'password_set');
}
