import { ProblemError } from '../platform/http/problem.ts';
import type { KeySet } from './key-set.ts';
import type { ProofVerdict } from './proof-verdict.ts';
import { type VerifyLimits, verifyBeside } from './verify-beside.ts';

/** Verifies files for anybody who asks, without letting them crowd out everything else. */
export interface Verifier {
  /**
   * @param signal ends it when whoever asked is gone
   * @throws ProblemError 503 while as many files wait as may wait, and when it was ended
   */
  verify(bytes: Uint8Array, keys: KeySet, signal?: AbortSignal): Promise<ProofVerdict>;
  /** Ends whatever is read or waits, for good. */
  close(): Promise<void>;
}

/**
 * Verifies one file after the other: the bound on memory watches the whole process, so two files at
 * once would be blamed for each other.
 * @param waitingMax how many files may wait beside the one that is read
 * @param timeMs how long one may be read
 */
export function createVerifier({
  waitingMax,
  ...limits
}: { waitingMax: number } & Partial<Pick<VerifyLimits, 'timeMs'>>): Verifier {
  let last: Promise<unknown> = Promise.resolve();
  let asked = 0;
  const closing = new AbortController();
  return {
    verify: async (bytes, keys, signal) => {
      if (asked > waitingMax) {
        throw new ProblemError('unavailable', 'Too many papers are being checked. Try again soon.');
      }
      asked += 1;
      const ended = AbortSignal.any([closing.signal, ...(signal === undefined ? [] : [signal])]);
      const verdict = last.then(() => verifyBeside(bytes, keys, { ...limits, signal: ended }));
      last = verdict.catch(() => {});
      return verdict.finally(() => {
        asked -= 1;
      });
    },
    close: async () => {
      closing.abort();
      await last;
    },
  };
}
