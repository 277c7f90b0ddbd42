export { listWaiting } from './list-waiting.ts';
export { priorityBody } from './priority-body.ts';
export { priorityOf, type TicketPriority } from './priority-of.ts';
export { priorityRoutes } from './routes.ts';
export { unbookedStates } from './waiting-states.ts';
