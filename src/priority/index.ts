export type { Air, TicketFacts } from './facts.ts';
export { type FeltHeat, feltHeat } from './felt-heat.ts';
export { byPriority, type Priority, rankTicket } from './rank-ticket.ts';
export type { Rank, Reason } from './reasons.ts';
