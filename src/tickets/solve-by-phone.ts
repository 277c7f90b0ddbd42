import { appendJournal } from '../journal/index.ts';
import type { Ticket } from '../platform/database/generated/client.ts';
import { ProblemError, wrongField } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { observationWords } from '../trade/index.ts';
import { keepPhoneAnswer, type PhoneAnswer } from './keep-phone-answer.ts';
import { moveTicket } from './move-ticket.ts';
import { refuseDropped } from './refuse-dropped.ts';
import { requireNoOpenDanger } from './require-no-open-danger.ts';
import { ticketRequests } from './ticket-state-after.ts';

/** Somebody calls within a day, to hear whether it is still fine. */
const HOURS_UNTIL_CALL_BACK = 24;

/**
 * Ends a locked ticket that a safe check on the phone has solved: nobody drives out, nothing is
 * charged, and a call back is due within a day.
 * @throws ProblemError 400 for a check that a homeowner must never be asked to make, 409 when the
 *   ticket is past the phone, in danger, or somebody was there already: that visit has a fee
 */
export async function solveByPhone(
  act: ActContext,
  ticket: Ticket,
  { answers, whatHelped }: { answers: readonly PhoneAnswer[]; whatHelped: string },
): Promise<Ticket> {
  answers.forEach(refuseUnsafeCheck);
  answers.forEach(refuseUnsolved);
  await requireNoOpenDanger(act, ticket, 'resolve_by_phone');
  await refuseDropped(act, ticket, 'resolve_by_phone');
  await refuseAfterVisit(act, ticket);
  for (const answer of answers) await keepPhoneAnswer(act, ticket.id, answer);
  const solved = await moveTicket(act, ticket, 'resolve_by_phone', whatHelped);
  await promiseCallBack(act, ticket.id);
  return solved;
}

async function promiseCallBack(act: ActContext, ticketId: string): Promise<void> {
  const dueAt = new Date(act.now.getTime() + HOURS_UNTIL_CALL_BACK * 3_600_000);
  const callBack = await act.tx.callBack.create({
    data: { id: act.newId(), ticketId, dueAt, createdAt: act.now },
  });
  await appendJournal(act, {
    event: 'call_back.promised',
    subject: { kind: 'call_back', id: callBack.id },
    after: { ticketId, dueAt },
  });
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
