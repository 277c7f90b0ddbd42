import { violationOf } from '../platform/database/violation.ts';
import { ProblemError } from '../platform/http/problem.ts';

/**
 * Throws the refusal for a technician who has other work at that time, where that is what the
 * database refused; the error as it came otherwise.
 */
export function takenOrThrow(error: unknown): never {
  if (violationOf(error)?.constraint !== 'visit_one_live_work_per_technician') throw error;
  throw windowTaken();
}

/** The refusal for a technician who has other work at that time. */
export function windowTaken(): ProblemError {
  return new ProblemError('window-taken', 'The technician has other work at that time.');
}
