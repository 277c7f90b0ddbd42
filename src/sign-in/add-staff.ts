import { appendJournal, type Doer } from '../journal/index.ts';
import type { Role } from '../platform/access/actor.ts';
import { isTaken } from '../platform/database/violation.ts';
import { ProblemError } from '../platform/http/problem.ts';

/**
 * Adds somebody to the staff, without a password yet.
 * @throws ProblemError 409 where somebody has the e-mail already; also of two who add it at once
 */
export async function addStaff(
  doer: Doer,
  person: { name: string; role: Role; email: string; phone: string | null },
): Promise<{ id: string }> {
  const data = { ...person, id: doer.newId(), createdAt: doer.now };
  await doer.tx.staff.create({ data }).catch((error: unknown) => {
    if (!isTaken(error)) throw error;
    throw new ProblemError('already-exists', 'Somebody of the staff has this e-mail already.');
  });
  await appendJournal(doer, {
    event: 'staff.added',
    subject: { kind: 'staff', id: data.id },
    after: { role: person.role },
  });
  return { id: data.id };
}
