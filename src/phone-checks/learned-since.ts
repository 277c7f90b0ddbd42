import { isAtReset, tripsAgain } from '../phone-script/index.ts';
import { dialogueOf } from './dialogue-of.ts';
import { wasResetAt } from './was-reset-at.ts';
import { KNOWN, type SaidAnswer, type WholeCheck } from './whole-check.ts';

/**
 * What became known of a site since an open dialogue began, and is not written yet: a breaker was
 * reset, or tripped again, in another dialogue. With it the script asks for no reset any more. Where
 * the dialogue tells of a second trip itself, it says the same already.
 * @param records of the transaction that has the site locked, where something is written by it
 */
export async function learnedSince(
  records: Parameters<typeof wasResetAt>[0],
  siteId: string,
  check: WholeCheck,
): Promise<SaidAnswer[]> {
  if (check.outcome !== null) return [];
  const dialogue = dialogueOf(check);
  if (!isAtReset(dialogue) || tripsAgain(dialogue)) return [];
  const isKnown = await wasResetAt(records, siteId, check.id);
  return isKnown ? [{ questionCode: KNOWN, answer: 'reset_before' }] : [];
}
