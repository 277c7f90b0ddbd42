import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import { sqlOf } from '../platform/database/database.ts';
import { notFound, ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import type { staffAccessSchema } from './contract.ts';
import { endSessions } from './end-sessions.ts';
import { revokeLinks } from './make-link.ts';
import { accessOf } from './staff-access.ts';

/**
 * Shuts somebody out who has left: their sessions, their links and the tokens of their programs are
 * worth nothing from then on, also when they come back.
 * @throws ProblemError 404 for nobody, 409 for somebody who is out already and for the last owner
 */
export async function disableStaff(
  act: ActContext,
  staffId: string,
): Promise<z.input<typeof staffAccessSchema>> {
  const { tx, now } = act;
  // All owners are locked: of two who shut each other out at once, the second is the last one.
  const locked = await sqlOf(tx).query<{ id: string; role: string; disabled_at: Date | null }>(
    LOCK,
    [staffId],
  );
  const person = locked.rows.find(({ id }) => id === staffId);
  if (person === undefined) throw notFound('person');
  if (person.disabled_at !== null) throw refused('They are disabled already.', 'disabled');
  const hasOther = locked.rows.some(({ id, role }) => role === 'owner' && id !== staffId);
  if (person.role === 'owner' && !hasOther) {
    throw refused('This is the last owner. Invite another one first.', 'last_owner');
  }
  await tx.staff.update({
    where: { id: staffId },
    data: { disabledAt: now, version: { increment: 1 } },
  });
  await appendJournal(act, { event: 'staff.disabled', subject: { kind: 'staff', id: staffId } });
  await endSessions(act, staffId, 'staff_disabled');
  await tx.staffToken.updateMany({ where: { staffId, revokedAt: null }, data: { revokedAt: now } });
  await revokeLinks(act, staffId);
  return accessOf(tx, staffId, now);
}

function refused(detail: string, currentState: string): ProblemError {
  const allowedActions = currentState === 'disabled' ? ['enable'] : [];
  return new ProblemError('not-allowed-now', detail, { currentState, allowedActions });
}

const LOCK = `
  SELECT id, role, disabled_at FROM staff
  WHERE id = $1 OR (role = 'owner' AND disabled_at IS NULL)
  ORDER BY id FOR NO KEY UPDATE`;
