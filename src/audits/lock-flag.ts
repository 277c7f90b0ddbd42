import { lockInvoicesOf } from '../invoices/index.ts';
import {
  type AuditFlagAction,
  type AuditFlagState,
  auditFlagAnswers,
} from '../lifecycles/index.ts';
import { lockRow } from '../platform/database/lock-row.ts';
import { versionTag } from '../platform/http/etag.ts';
import { moveOrRefuse } from '../platform/http/move-or-refuse.ts';
import type { ActContext } from '../platform/http/route.ts';
import { flagOf, type WholeFlag } from './flag-of.ts';
import { judgeTickets } from './judge-tickets.ts';
import type { KnownTerms } from './known-terms.ts';

/**
 * Locks a flag with its ticket and its invoices, judges the ticket as it is now, and gives the flag
 * where it may be answered so. Whoever answers at the same time waits for the ticket.
 * @throws ProblemError 404, 412 when somebody was first, 409 for a flag that was answered, and for one
 *   that holds no more: what it was about was credited or changed meanwhile
 */
export async function lockFlag(
  act: ActContext,
  flagId: string,
  action: AuditFlagAction,
  known: KnownTerms,
): Promise<WholeFlag> {
  const { ticketId } = await flagOf(act.tx, flagId);
  await lockRow(act.tx, 'ticket', ticketId);
  await lockInvoicesOf(act, ticketId);
  const before = await flagOf(act.tx, flagId);
  act.mustMatch(versionTag(before.state.version));
  const newId = () => act.newId();
  await judgeTickets({ tx: act.tx, now: act.now, newId, known }, [ticketId]);
  const flag = await flagOf(act.tx, flagId);
  moveOrRefuse('flag', auditFlagAnswers, flag.state.state, action, WHY[flag.state.state]);
  return flag;
}

const WHY: Partial<Record<AuditFlagState, string>> = {
  accepted: 'It was accepted before.',
  dismissed: 'It was dismissed before.',
  gone: 'It no longer holds: what it was about was credited or changed since. Look at the ticket again.',
};
