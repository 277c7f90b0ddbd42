import { isTaken } from '../platform/database/violation.ts';
import { ProblemError } from '../platform/http/problem.ts';

/**
 * What was stored of a place. Two that arrive together both find a name free; the unique indexes of
 * the table let one of them in.
 * @throws ProblemError 409 when a place has that name, or the technician a truck already
 */
export async function orTaken<Stored>(storing: Promise<Stored>): Promise<Stored> {
  try {
    return await storing;
  } catch (error) {
    if (!isTaken(error)) throw error;
    throw new ProblemError(
      'already-exists',
      'Another place has this name, or the technician has a truck already.',
    );
  }
}
