import type { z } from 'zod';
import type { Visit } from '../platform/database/generated/client.ts';
import type { ActContext } from '../platform/http/route.ts';
import type { visitEndSchema } from './contract.ts';
import { moveVisit } from './move-visit.ts';
import { recordPartWait } from './record-part-wait.ts';
import { refuseUnanswered } from './refuse-unanswered.ts';

/**
 * Ends a visit and says how its ticket goes on; where that waits for a part, for which and what the
 * customer was told.
 * @throws ProblemError 404, 409 unless somebody is on site, or when the work is
 *   called complete while a quote waits for its answer, 412 when somebody moved it first; 400
 *   for a promised day that is over, 422 for a part that no price book has
 */
export async function finishVisit(
  act: ActContext,
  visitId: string,
  { ticketIs, waitingFor }: z.output<typeof visitEndSchema>,
): Promise<Visit> {
  const visit = await moveVisit(act, visitId, {
    action: 'finish',
    ticketAction: TICKET_AFTER[ticketIs],
  });
  if (ticketIs === 'work_complete') await refuseUnanswered(act, visit.ticketId);
  if (waitingFor !== undefined) {
    await recordPartWait(act, { ticketId: visit.ticketId, visitId }, waitingFor, '/waitingFor');
  }
  return visit;
}

const TICKET_AFTER = {
  work_complete: 'complete_work',
  waiting_for_answer: 'await_answer',
  waiting_for_part: 'await_part',
} as const;
