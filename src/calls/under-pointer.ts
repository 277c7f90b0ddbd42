import { ProblemError } from '../platform/http/problem.ts';

/**
 * Does what another act does too, with a part of this body; a field that is wrong there is named by
 * where it stands in this body.
 * @param pointer of that part, as `/site/new`
 */
export async function underPointer<T>(pointer: string, work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (error) {
    const errors = error instanceof ProblemError ? (error.extensions.errors ?? []) : [];
    for (const each of errors) each.pointer = `${pointer}${each.pointer}`;
    throw error;
  }
}
