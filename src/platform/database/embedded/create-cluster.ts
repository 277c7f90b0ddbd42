import { randomBytes } from 'node:crypto';
import { chmod, lchown, mkdir, open, readdir, rename, rm, writeFile } from 'node:fs/promises';
import path from 'node:path';
import type { Account } from './choose-account.ts';
import { errorCodeOf } from './error-code-of.ts';
import { explainFailure } from './explain-failure.ts';
import type { Binaries } from './find-binaries.ts';
import type { Room } from './find-room.ts';
import { isAlive } from './is-alive.ts';
import { runToEnd } from './run-to-end.ts';

/** The name of the administrator that initdb creates; never used by the application's queries. */
export const SUPERUSER = 'postgres';

/**
 * Initializes the room's cluster, unless it exists. All of it is made in a draft directory beside,
 * which one rename turns into the real one: a process killed half-way leaves only a draft, and
 * when two processes begin at once, the second finds the name taken and uses the first one's.
 */
export async function createCluster(binaries: Binaries, room: Room): Promise<void> {
  await removeDeadDrafts(room.dir);
  if (await exists(room.storeDir)) return;
  const draft = `${room.storeDir}.new-${process.pid}-${randomBytes(4).toString('hex')}`;
  try {
    await fillDraft(draft, binaries, room);
    await renameUnlessTaken(draft, room.storeDir);
    await flushDirectory(room.dir);
  } finally {
    await remove(draft);
  }
}

async function fillDraft(draft: string, binaries: Binaries, room: Room): Promise<void> {
  const clusterDir = path.join(draft, path.basename(room.clusterDir));
  const passwordFile = path.join(draft, path.basename(room.passwordFile));
  await mkdir(draft);
  // Not by the mode of mkdir, from which a strict umask would take the way through.
  await chmod(draft, room.account === undefined ? 0o700 : 0o711);
  await mkdir(clusterDir, { mode: 0o700 });
  await writeFile(passwordFile, randomBytes(24).toString('base64url'), {
    mode: 0o600,
    flush: true,
  });
  if (room.account !== undefined) {
    await giveTo(room.account, clusterDir);
    // initdb has to read the password once; afterwards it is ours alone.
    await giveTo(room.account, passwordFile);
  }
  await runInitdb({ binaries, room, clusterDir, passwordFile });
  if (room.account !== undefined) {
    await lchown(passwordFile, process.getuid?.() ?? 0, process.getgid?.() ?? 0);
  }
}

type Initdb = { binaries: Binaries; room: Room; clusterDir: string; passwordFile: string };

async function runInitdb({ binaries, room, clusterDir, passwordFile }: Initdb): Promise<void> {
  const { status, output } = await runToEnd(room.account, [
    path.join(binaries.nativeDir, 'bin', 'initdb'),
    `--pgdata=${clusterDir}`,
    `--username=${SUPERUSER}`,
    `--pwfile=${passwordFile}`,
    '--auth=scram-sha-256',
    '--encoding=UTF8',
    // The builtin provider sorts and folds alike on every system and every libc version.
    '--locale-provider=builtin',
    '--builtin-locale=C.UTF-8',
    '--locale=C',
    '--no-instructions',
  ]);
  if (status !== 0) throw explainFailure(output, room.dir);
}

async function giveTo(account: Account, file: string): Promise<void> {
  await lchown(file, account.uid, account.gid);
}

async function renameUnlessTaken(draft: string, storeDir: string): Promise<void> {
  try {
    await rename(draft, storeDir);
  } catch (error) {
    if (!['ENOTEMPTY', 'EEXIST'].includes(errorCodeOf(error))) throw error;
  }
}

/** A new name is safe from a power cut only when its directory is flushed; initdb did the rest. */
async function flushDirectory(directory: string): Promise<void> {
  const handle = await open(directory, 'r');
  try {
    await handle.sync();
  } finally {
    await handle.close();
  }
}

async function removeDeadDrafts(roomDir: string): Promise<void> {
  for (const name of await readdir(roomDir)) {
    const makerPid = /^postgres\.new-(\d+)-/.exec(name)?.[1];
    if (makerPid !== undefined && !isAlive(Number(makerPid)))
      await remove(path.join(roomDir, name));
  }
}

/** Retries, because an initdb that lost its parent may still be clearing up the same files. */
async function remove(directory: string): Promise<void> {
  await rm(directory, { recursive: true, force: true, maxRetries: 10, retryDelay: 100 });
}

async function exists(directory: string): Promise<boolean> {
  try {
    await readdir(directory);
    return true;
  } catch (error) {
    if (errorCodeOf(error) === 'ENOENT') return false;
    throw error;
  }
}
