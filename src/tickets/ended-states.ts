import type { Ticket } from '../platform/database/generated/client.ts';

/** Where a ticket has ended. */
export const endedStates: Ticket['state'][] = ['closed', 'cancelled', 'resolved_by_phone'];
