export { lockTicket, moveTicket } from './move-ticket.ts';
export { ticketRoutes } from './routes.ts';
