export { answerTicket } from './answer-ticket.ts';
export { ticketSchema } from './contract.ts';
export { type LastClosing, lastClosing } from './last-closing.ts';
export { lockTicket, moveTicket } from './move-ticket.ts';
export { ticketRoutes } from './routes.ts';
