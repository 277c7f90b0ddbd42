export { answerTicket } from './answer-ticket.ts';
export { callbackDays } from './callback-days.ts';
export { ticketSchema } from './contract.ts';
export { type LastClosing, lastClosing } from './last-closing.ts';
export { lockTicket, moveTicket } from './move-ticket.ts';
export { ticketRoutes } from './routes.ts';
export { ticketRequests, ticketStateAfter } from './ticket-state-after.ts';
export { whyOnlyClosed } from './why-only-closed.ts';
