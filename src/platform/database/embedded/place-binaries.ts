import { cp, mkdtemp, rename, rm } from 'node:fs/promises';
import path from 'node:path';
import type { Account } from './choose-account.ts';
import { EmbeddedError, USE_ANOTHER_SERVER } from './embedded-error.ts';
import { errorCodeOf } from './error-code-of.ts';
import type { Binaries } from './find-binaries.ts';
import type { Room } from './find-room.ts';
import { hydrateSymlinks } from './hydrate-symlinks.ts';
import { runToEnd } from './run-to-end.ts';

/**
 * Returns programs that the room's account can run: the installed ones, or else a copy in the room
 * (the checkout is out of the account's reach, or is read-only and lacks the library links).
 * @throws EmbeddedError 'cannot_run' when even the copy does not run, as on a system without glibc
 */
export async function placeBinaries(
  installed: Binaries,
  room: Room,
  log: (line: string) => void,
): Promise<Binaries> {
  if (await canHydrate(installed.nativeDir)) {
    if ((await tryToRun(installed.nativeDir, room.account)) === 'runs') return installed;
  }
  const copyDir = path.join(room.dir, `binaries-${installed.version}`);
  if ((await tryToRun(copyDir, room.account)) !== 'runs') {
    await copyBinaries(installed.nativeDir, copyDir);
    log(`Postgres' programs cannot run where they are installed; copied them to ${copyDir}.`);
    const outcome = await tryToRun(copyDir, room.account);
    if (outcome !== 'runs') throw cannotRun(outcome.words);
  }
  return { ...installed, nativeDir: copyDir };
}

async function canHydrate(nativeDir: string): Promise<boolean> {
  try {
    await hydrateSymlinks(nativeDir);
    return true;
  } catch (error) {
    if (['EACCES', 'EPERM', 'EROFS'].includes(errorCodeOf(error))) return false;
    throw error;
  }
}

async function tryToRun(
  nativeDir: string,
  account: Account | undefined,
): Promise<'runs' | { words: string }> {
  const check = '"$1"/bin/postgres --version && "$1"/bin/initdb --version && test -r "$1"/share';
  const { status, output } = await runToEnd(account, ['/bin/sh', '-c', check, 'sh', nativeDir]);
  return status === 0 ? 'runs' : { words: output };
}

/** Copies beside and renames, so that an interrupted copy is never taken for a whole one. */
async function copyBinaries(nativeDir: string, copyDir: string): Promise<void> {
  const draft = await mkdtemp(`${copyDir}.new-`);
  const draftNative = path.join(draft, 'native');
  try {
    await cp(nativeDir, draftNative, { recursive: true, verbatimSymlinks: true, filter: isNeeded });
    // The copy inherits the modes of an original that may be read-only, or closed to others.
    await openToReaders(draftNative);
    await hydrateSymlinks(draftNative);
    await rm(copyDir, { recursive: true, force: true });
    await rename(draftNative, copyDir);
  } finally {
    await rm(draft, { recursive: true, force: true });
  }
}

// Static libraries serve only for compiling against Postgres, and weigh megabytes.
function isNeeded(file: string): boolean {
  return !file.endsWith('.a');
}

async function openToReaders(directory: string): Promise<void> {
  const { status, output } = await runToEnd(undefined, ['chmod', '-R', 'u+w,go+rX', directory]);
  if (status !== 0) throw new Error(output);
}

function cannotRun(words: string): EmbeddedError {
  return new EmbeddedError(
    'cannot_run',
    `The embedded Postgres cannot run on this system. ${USE_ANOTHER_SERVER}\n${words.trim()}`,
  );
}
