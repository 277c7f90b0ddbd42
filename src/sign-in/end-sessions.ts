import { appendJournal, type Doer } from '../journal/index.ts';

/** Why sessions end. */
export type EndCause =
  | 'signed_in_again'
  | 'sign_out'
  | 'sign_out_everywhere'
  | 'ended_one'
  | 'password_set'
  | 'second_factor_on'
  | 'second_factor_removed'
  | 'staff_disabled';

/** The only session that ends, by its token or its identifier, or the only one that does not. */
interface Which {
  only?: TokenHash | undefined;
  onlyId?: string;
  but?: TokenHash | undefined;
}

/**
 * Ends the sessions of somebody, all of them unless said otherwise. What was let in before goes
 * through; what comes after does not, for a session that has ended can never be used again.
 * @returns how many ended
 */
export async function endSessions(
  doer: Doer,
  staffId: string,
  cause: EndCause,
  { only, onlyId, but }: Which = {},
): Promise<number> {
  const { count } = await doer.tx.staffSession.updateMany({
    where: {
      ...{ staffId, endedAt: null },
      ...(only && { tokenHash: only }),
      ...(onlyId !== undefined && { id: onlyId }),
      ...(but && { NOT: { tokenHash: but } }),
    },
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

type TokenHash = Uint8Array<ArrayBuffer>;
