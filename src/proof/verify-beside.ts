import { Worker } from 'node:worker_threads';
import { ProblemError } from '../platform/http/problem.ts';
import type { KeySet } from './key-set.ts';
import { PAPER_BYTES_MAX } from './paper-bytes-max.ts';
import type { ProofVerdict } from './proof-verdict.ts';
import { startsAsPdf } from './starts-as-pdf.ts';

export interface VerifyLimits {
  /** Reading a long paper of ours takes a few seconds on a slow machine. */
  timeMs: number;
  /** How much the whole process may grow meanwhile. */
  growthBytes: number;
  /** Ends it at once. */
  signal?: AbortSignal;
}

/**
 * Verifies a stranger's file on a thread of its own, which is ended when it takes too long or too
 * much memory: a few kilobytes can be made to unpack to gigabytes, or to keep a reader busy for
 * hours.
 * @throws ProblemError 503 when it was ended; Error when the thread cannot run at all
 */
export async function verifyBeside(
  bytes: Uint8Array,
  keys: KeySet,
  { signal, ...limits }: Partial<VerifyLimits> = {},
): Promise<ProofVerdict> {
  if (bytes.length > PAPER_BYTES_MAX) return { verdict: 'unreadable', cause: 'too_large' };
  // What is plainly no paper is not worth a thread.
  if (!startsAsPdf(bytes)) return { verdict: 'unreadable', cause: 'not_a_pdf' };
  if (signal?.aborted) throw wasEnded();
  const worker = new Worker(START, {
    workerData: { bytes, keys },
    resourceLimits: { maxOldGenerationSizeMb: HEAP_MB_MAX },
    // What a reader has to grumble about a broken file is no news to whoever asked for a verdict.
    stdout: true,
    stderr: true,
  });
  const watch = watchLimits(worker, { ...LIMITS, ...limits });
  const end = () => void worker.terminate();
  signal?.addEventListener('abort', end);
  try {
    return await verdictOf(worker, signal);
  } finally {
    signal?.removeEventListener('abort', end);
    clearInterval(watch);
    await worker.terminate();
  }
}

const START = new URL('./start-verify-worker.mjs', import.meta.url);
const LIMITS = { timeMs: 20_000, growthBytes: 512 * 1024 * 1024 };
const HEAP_MB_MAX = 256;
const LOOK_EVERY_MS = 50;

const TOO_MUCH: ProofVerdict = { verdict: 'unreadable', cause: 'too_much_work' };

/** Buffers lie outside the heap that a thread's own limit counts, so the process is watched too. */
function watchLimits(
  worker: Worker,
  { timeMs, growthBytes }: Pick<VerifyLimits, 'timeMs' | 'growthBytes'>,
): NodeJS.Timeout {
  const endsAtMs = performance.now() + timeMs;
  const bytesMax = process.memoryUsage.rss() + growthBytes;
  return setInterval(() => {
    if (performance.now() < endsAtMs && process.memoryUsage.rss() < bytesMax) return;
    void worker.terminate();
  }, LOOK_EVERY_MS);
}

function verdictOf(worker: Worker, signal: AbortSignal | undefined): Promise<ProofVerdict> {
  return new Promise((resolve, reject) => {
    worker.once('message', resolve);
    worker.once('error', (error) => {
      if ('code' in error && error.code === 'ERR_WORKER_OUT_OF_MEMORY') resolve(TOO_MUCH);
      else reject(error);
    });
    worker.once('exit', () => (signal?.aborted ? reject(wasEnded()) : resolve(TOO_MUCH)));
  });
}

function wasEnded(): ProblemError {
  return new ProblemError('unavailable', 'The check was ended before it was done.');
}
