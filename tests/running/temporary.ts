import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';

/** Work to be undone after a test, last done first undone. */
export type Undo = (() => Promise<unknown>)[];

/** Undoes it all; for afterEach. */
export async function undoAll(undo: Undo): Promise<void> {
  for (const step of undo.splice(0).toReversed()) await step();
}

/** A folder that is gone after the test. */
export async function temporaryFolder(undo: Undo): Promise<string> {
  const folder = await mkdtemp(path.join(tmpdir(), 'evenhand-running-'));
  undo.push(() => rm(folder, { recursive: true, force: true, maxRetries: 20, retryDelay: 50 }));
  return folder;
}

/** Asks again until it is so; a test that waits in vain ends by its own time limit. */
export async function until(isSo: () => Promise<boolean> | boolean): Promise<void> {
  while (!(await isSo())) await wait(20);
}
