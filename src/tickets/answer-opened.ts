import type { z } from 'zod';
import { sqlOf } from '../platform/database/database.ts';
import type { Ticket } from '../platform/database/generated/client.ts';
import type { ActContext, Reply } from '../platform/http/route.ts';
import { answerTicket } from './answer-ticket.ts';
import type { openedTicketSchema } from './contract.ts';
import { recentWorkOf } from './recent-work-of.ts';

/** A ticket that was just opened as an answer, with what was done not long ago at its site. */
export async function answerOpened(
  act: ActContext,
  ticket: Ticket,
): Promise<Reply<z.input<typeof openedTicketSchema>>> {
  const opened = await answerTicket(sqlOf(act.tx), ticket);
  const recentWork = await recentWorkOf(act, ticket);
  return { ...opened, body: { ...opened.body, recentWork }, location: `/v1/tickets/${ticket.id}` };
}
