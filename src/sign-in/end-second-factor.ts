import { appendJournal, type Doer } from '../journal/index.ts';

/** Why a second factor ends. */
export type FactorEnd = 'begun_again' | 'by_themselves' | 'by_owner';

/**
 * Ends the second factor of somebody who is locked, and wipes its secret. It never counts again.
 * @returns whether there was one
 */
export async function endSecondFactor(
  doer: Doer,
  staffId: string,
  cause: FactorEnd,
): Promise<boolean> {
  const { count } = await doer.tx.staffSecondFactor.updateMany({
    where: { staffId, endedAt: null },
    data: { endedAt: doer.now, sealedSecret: null },
  });
  if (count > 0) {
    await appendJournal(doer, {
      event: 'second_factor.ended',
      subject: { kind: 'staff', id: staffId },
      after: { cause },
    });
  }
  return count > 0;
}
