import { isAtReset, tripsAgain } from '../phone-script/index.ts';
import { lockRow } from '../platform/database/lock-row.ts';
import type { ActContext } from '../platform/http/route.ts';
import { dialogueOf } from './dialogue-of.ts';
import { learnedSince } from './learned-since.ts';
import type { SaidAnswer, WholeCheck } from './whole-check.ts';

/**
 * What an act has to know of the other dialogues of the site before it asks for a reset, or takes
 * what came of one. Whoever asks for a reset, or tells of a second trip, holds the site until the end
 * of the transaction: of two dialogues that come to it at once one is asked, and the other learns it.
 */
export async function learnOfResets(
  act: ActContext,
  siteId: string,
  check: WholeCheck,
): Promise<SaidAnswer[]> {
  const dialogue = dialogueOf(check);
  if (!isAtReset(dialogue) && !tripsAgain(dialogue)) return [];
  await lockRow(act.tx, 'site', siteId);
  return learnedSince({ prisma: act.tx, now: act.now }, siteId, check);
}
