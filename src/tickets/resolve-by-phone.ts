import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import type { Ticket } from '../platform/database/generated/client.ts';
import { versionTag } from '../platform/http/etag.ts';
import { ProblemError, wrongField } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { observationWords } from '../trade/index.ts';
import type { phoneAnswerSchema, phoneResolutionSchema } from './contract.ts';
import { lockTicket, moveTicket } from './move-ticket.ts';
import { refuseDropped } from './refuse-dropped.ts';
import { ticketRequests } from './ticket-state-after.ts';

/**
 * Ends a ticket that a safe check on the phone has solved: nobody drives out, nothing is charged.
 * @throws ProblemError 400 for a check that a homeowner must never be asked to make, 409 when the
 *   ticket is past the phone or somebody was there already: that visit has a fee
 */
export async function resolveByPhone(
  act: ActContext,
  ticketId: string,
  input: z.output<typeof phoneResolutionSchema>,
): Promise<Ticket> {
  input.answers.forEach(refuseUnsafeCheck);
  input.answers.forEach(refuseUnsolved);
  const ticket = await lockTicket(act, ticketId);
  act.mustMatch(versionTag(ticket.version));
  await refuseDropped(act, ticket, 'resolve_by_phone');
  await refuseAfterVisit(act, ticket);
  for (const answer of input.answers) await keepAnswer(act, ticketId, answer);
  return moveTicket(act, ticket, 'resolve_by_phone', input.whatHelped);
}

async function refuseAfterVisit(act: ActContext, ticket: Ticket): Promise<void> {
  const visited = await act.tx.visit.findFirst({
    where: { ticketId: ticket.id, state: 'finished' },
  });
  if (visited === null) return;
  throw new ProblemError('not-allowed-now', 'A technician was there already.', {
    currentState: ticket.state,
    action: 'resolve_by_phone',
    allowedActions: ticketRequests(ticket.state).filter((action) => action !== 'resolve_by_phone'),
  });
}

type PhoneAnswer = z.output<typeof phoneAnswerSchema>;

function refuseUnsafeCheck({ code }: PhoneAnswer, index: number): void {
  if (observationWords[code].by === 'anyone') return;
  throw wrongField(
    `/answers/${index}/code`,
    'not_by_phone',
    'Only a technician may check this; never ask it on the phone.',
  );
}

/** What still trips is not solved, whoever says so. */
function refuseUnsolved({ code, answer }: PhoneAnswer, index: number): void {
  const words: { statement: string; visitDue?: true } = observationWords[code];
  if (words.visitDue === undefined || answer !== 'yes') return;
  throw wrongField(
    `/answers/${index}/answer`,
    'visit_due',
    `${words.statement}: it stays off, and a technician has to look. Book a visit.`,
  );
}

async function keepAnswer(act: ActContext, ticketId: string, answer: PhoneAnswer): Promise<void> {
  const observation = await act.tx.observation.create({
    data: {
      id: act.newId(),
      ticketId,
      code: answer.code,
      answer: answer.answer,
      source: 'reported',
      phase: 'found',
      note: answer.note ?? null,
      observedAt: act.now,
      recordedAt: act.now,
      recordedById: act.actor.id,
    },
  });
  await appendJournal(act, {
    event: 'observation.recorded',
    subject: { kind: 'observation', id: observation.id },
    after: {
      ticketId,
      code: answer.code,
      answer: answer.answer,
      source: 'reported',
      phase: 'found',
      observedAt: act.now,
    },
  });
}
