import { ProblemError } from '../platform/http/problem.ts';
import type { KeySet } from './key-set.ts';
import type { ProofVerdict } from './proof-verdict.ts';
import { verifyBeside } from './verify-beside.ts';

/** Verifies files for anybody who asks, without letting them crowd out everything else. */
export interface Verifier {
  /** @throws ProblemError 503 while as many files wait as may wait */
  verify(bytes: Uint8Array, keys: KeySet): Promise<ProofVerdict>;
}

/**
 * Verifies one file after the other: the bound on memory watches the whole process, so two files at
 * once would be blamed for each other.
 * @param waitingMax how many files may wait beside the one that is read
 */
export function createVerifier({ waitingMax }: { waitingMax: number }): Verifier {
  let last: Promise<unknown> = Promise.resolve();
  let asked = 0;
  return {
    verify: async (bytes, keys) => {
      if (asked > waitingMax) {
        throw new ProblemError('unavailable', 'Too many papers are being checked. Try again soon.');
      }
      asked += 1;
      const verdict = last.then(() => verifyBeside(bytes, keys));
      last = verdict.catch(() => {});
      return verdict.finally(() => {
        asked -= 1;
      });
    },
  };
}
