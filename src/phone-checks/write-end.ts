import { appendJournal } from '../journal/index.ts';
import { observedIn } from '../phone-script/index.ts';
import type { Ticket } from '../platform/database/generated/client.ts';
import type { ActContext } from '../platform/http/route.ts';
import { keepPhoneAnswer } from '../tickets/index.ts';
import { dialogueOf } from './dialogue-of.ts';
import { saltOfCaller } from './salt-of-caller.ts';
import { type WholeCheck, withAnswers } from './whole-check.ts';

/** How a dialogue ends. */
export type End =
  | { outcome: 'danger'; dangerCode: string }
  | { outcome: 'solved' }
  | { outcome: 'not_solved' | 'broken_off'; endNote: string | null };

/**
 * Writes how an open dialogue ended, and keeps what was told of the equipment until then; where it was
 * solved, that was kept with the end of its ticket.
 */
export async function writeEnd(
  act: ActContext,
  ticket: Ticket,
  check: WholeCheck,
  end: End,
): Promise<WholeCheck> {
  const told = end.outcome === 'solved' ? [] : observedIn(dialogueOf(check));
  for (const answer of told) await keepPhoneAnswer(act, check.ticketId, answer);
  const note = 'endNote' in end ? end.endNote : null;
  const ended = await act.tx.phoneCheck.update({
    where: { id: check.id },
    data: { ...end, endedAt: act.now },
    include: withAnswers,
  });
  await appendJournal(act, {
    event: 'phone_check.ended',
    subject: { kind: 'phone_check', id: check.id },
    after: {
      outcome: end.outcome,
      ...('dangerCode' in end && { dangerCode: end.dangerCode }),
    },
    personal: { salt: await saltOfCaller(act, ticket), after: note === null ? {} : { note } },
  });
  return ended;
}
