import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import { currentPhoneScript, scriptLanguageSchema } from '../phone-script/index.ts';
import type { Ticket } from '../platform/database/generated/client.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { lockTicket, requireNoOpenDanger } from '../tickets/index.ts';
import type { newPhoneCheckSchema } from './contract.ts';
import { knownAt } from './known-at.ts';
import { latestCheck } from './latest-check.ts';
import { KNOWN, type WholeCheck, withAnswers } from './whole-check.ts';

/**
 * Begins the dialogue of a ticket: the newest script, in the caller's language unless told, and what
 * the records say now. All of it stays so, whatever is released or recorded later.
 * @throws ProblemError 404 for no ticket; 409 while another dialogue is open, its danger is not over,
 *   or nobody is on the phone about the ticket any more
 */
export async function startPhoneCheck(
  act: ActContext,
  ticketId: string,
  { language }: z.output<typeof newPhoneCheckSchema>,
): Promise<WholeCheck> {
  const ticket = await lockTicket(act, ticketId);
  requireAsked(ticket);
  await requireNoOpenDanger(act, ticket, 'start');
  const before = await latestCheck(act.tx, ticketId);
  if (before !== undefined && before.outcome === null) {
    throw new ProblemError('already-exists', 'Phone checks are open: go on with them.');
  }
  const known = await knownAt(act, ticket);
  const check = await act.tx.phoneCheck.create({
    data: {
      id: act.newId(),
      ticketId,
      run: (before?.run ?? 0) + 1,
      scriptVersion: currentPhoneScript,
      language: language ?? (await languageOfCaller(act, ticket)),
      startedAt: act.now,
      startedById: act.actor.id,
      answers: {
        create: known.map((answer, index) => ({
          sequence: index + 1,
          questionCode: KNOWN,
          answer,
          answeredAt: act.now,
          recordedById: act.actor.id,
        })),
      },
    },
    include: withAnswers,
  });
  const { run, scriptVersion } = check;
  await appendJournal(act, {
    event: 'phone_check.started',
    subject: { kind: 'phone_check', id: check.id },
    after: { ticketId, run, scriptVersion, language: check.language, known },
  });
  return check;
}

/** Whoever calls about a ticket that waits is asked again: water may have come since. */
const onThePhone: readonly Ticket['state'][] = [
  'new',
  'scheduled',
  'waiting_for_part',
  'waiting_for_answer',
];

function requireAsked({ state }: Ticket): void {
  if (onThePhone.includes(state)) return;
  throw new ProblemError(
    'not-allowed-now',
    'Phone checks are for a ticket that waits for a visit.',
    {
      currentState: state,
      action: 'start',
      allowedActions: [],
    },
  );
}

async function languageOfCaller({ tx }: ActContext, { callerId }: Ticket) {
  const caller = await tx.customer.findUniqueOrThrow({ where: { id: callerId } });
  return scriptLanguageSchema.safeParse(caller.language).data ?? 'en';
}
