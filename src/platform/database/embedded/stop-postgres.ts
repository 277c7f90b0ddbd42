import { setTimeout as delay } from 'node:timers/promises';
import type { Supervised } from './run-supervised.ts';

/**
 * Shuts the server down and returns when it has ended: first fast (sessions are cut off, the data
 * is written out), after a bound immediately (the next start recovers), at last by force.
 */
export async function stopPostgres(program: Supervised): Promise<void> {
  program.release();
  if (await endsWithin(program, FAST_MS_MAX)) return;
  signal(program.pid, 'SIGQUIT');
  if (await endsWithin(program, IMMEDIATE_MS_MAX)) return;
  signal(program.pid, 'SIGKILL');
  signal(-program.supervisorPid, 'SIGKILL');
  await program.ended;
}

const FAST_MS_MAX = 20_000;
const IMMEDIATE_MS_MAX = 5_000;

async function endsWithin(program: Supervised, ms: number): Promise<boolean> {
  const timer = new AbortController();
  const tooLate = delay(ms, false, { signal: timer.signal }).catch(() => false);
  const inTime = await Promise.race([program.ended.then(() => true), tooLate]);
  timer.abort();
  return inTime;
}

function signal(pid: number, name: NodeJS.Signals): void {
  try {
    process.kill(pid, name);
  } catch {
    // It has ended in the meantime, which is what we wanted.
  }
}
