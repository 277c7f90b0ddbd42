import type { Tx } from '../platform/database/database.ts';
import type { Ticket } from '../platform/database/generated/client.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { lockTicket } from '../tickets/index.ts';
import { checkTag } from './check-tag.ts';
import { learnOfResets } from './learn-of-resets.ts';
import { type WholeCheck, withAnswers } from './whole-check.ts';
import { withSaid } from './with-said.ts';

/** The latest dialogue of a ticket; undefined where there was none. */
export async function latestCheck(
  prisma: Pick<Tx, 'phoneCheck'>,
  ticketId: string,
): Promise<WholeCheck | undefined> {
  const check = await prisma.phoneCheck.findFirst({
    where: { ticketId },
    orderBy: { run: 'desc' },
    include: withAnswers,
  });
  return check ?? undefined;
}

/** The latest dialogue of a locked ticket, ready to be gone on with. */
export interface LockedCheck {
  ticket: Ticket;
  /** With what its site taught since, whose rows are at its end. */
  check: WholeCheck;
  /** How many of its answers are written; the others are by whoever goes on. */
  written: number;
}

/**
 * Locks a ticket and reads its latest dialogue, so that of two who go on with it one waits and then
 * sees what the other did.
 * @throws ProblemError 404 for no ticket, 409 where no dialogue was begun, 412 where it went on since
 */
export async function lockLatestCheck(act: ActContext, ticketId: string): Promise<LockedCheck> {
  const ticket = await lockTicket(act, ticketId);
  const stored = await latestCheck(act.tx, ticketId);
  const learned = stored === undefined ? [] : await learnOfResets(act, ticket.siteId, stored);
  act.mustMatch(checkTag(stored, learned));
  if (stored === undefined) {
    throw new ProblemError('not-allowed-now', 'No phone checks were begun for this ticket.', {
      currentState: 'not_begun',
      allowedActions: ['start'],
    });
  }
  return { ticket, check: withSaid(stored, learned, act), written: stored.answers.length };
}

/** @throws ProblemError 409 for a dialogue that has ended */
export function requireOpen({ outcome, dangerOverAt }: WholeCheck): void {
  if (outcome === null) return;
  // What was solved is over; trouble that is back is a ticket of its own.
  const again = outcome === 'solved' ? [] : ['start'];
  const isInDanger = outcome === 'danger' && dangerOverAt === null;
  throw new ProblemError(
    'not-allowed-now',
    isInDanger
      ? 'The phone checks stopped in danger; nothing is asked after it.'
      : 'These phone checks have ended.',
    { currentState: outcome, allowedActions: isInDanger ? ['record_danger_over'] : again },
  );
}
