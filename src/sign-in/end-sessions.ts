import { appendJournal, type Doer } from '../journal/index.ts';

/** Why sessions end. */
export type EndCause = 'sign_out' | 'sign_out_everywhere' | 'password_set' | 'staff_disabled';

/**
 * Ends the sessions of somebody, all or one. What was let in before goes through; what comes after
 * does not, for a session that has ended can never be used again.
 * @param only the hash of the token of the one that ends
 * @returns how many ended
 */
export async function endSessions(
  doer: Doer,
  staffId: string,
  cause: EndCause,
  only?: Uint8Array<ArrayBuffer>,
): Promise<number> {
  const { count } = await doer.tx.staffSession.updateMany({
    where: { staffId, endedAt: null, ...(only && { tokenHash: only }) },
    data: { endedAt: doer.now },
  });
  if (count > 0) {
    await appendJournal(doer, {
      event: 'session.ended',
      subject: { kind: 'staff', id: staffId },
      after: { cause, count },
    });
  }
  return count;
}
