export { answerOpened } from './answer-opened.ts';
export { answerTicket } from './answer-ticket.ts';
export { callbackDays } from './callback-days.ts';
export {
  newTicketSchema,
  openedTicketSchema,
  recentWorkSchema,
  symptomSchema,
  ticketKindSchema,
  ticketSchema,
} from './contract.ts';
export { endedStates } from './ended-states.ts';
export { keepPhoneAnswer } from './keep-phone-answer.ts';
export { isCallback, type LastClosing, lastClosing } from './last-closing.ts';
export { lockTicket, moveTicket } from './move-ticket.ts';
export { openTicket } from './open-ticket.ts';
export { recentWorkOf } from './recent-work-of.ts';
export { requireNoOpenDanger } from './require-no-open-danger.ts';
export { ticketRoutes } from './routes.ts';
export { solveByPhone } from './solve-by-phone.ts';
export { ticketOf } from './ticket-of.ts';
export { ticketRequests, ticketStateAfter } from './ticket-state-after.ts';
export { whyOnlyClosed } from './why-only-closed.ts';
export { writeTicket } from './write-ticket.ts';
