import { randomBytes } from 'node:crypto';
import { link, readFile, rename, rm } from 'node:fs/promises';
import { setTimeout as delay } from 'node:timers/promises';
import { EmbeddedError } from './embedded-error.ts';
import { errorCodeOf } from './error-code-of.ts';
import type { Room } from './find-room.ts';
import { isAlive } from './is-alive.ts';
import { type Holder, readHolder } from './read-holder.ts';

/**
 * Returns once nobody holds the room's cluster. A server whose owner has died is shutting down, and
 * is waited for; a server whose owner lives is a refusal.
 * @throws EmbeddedError 'held'
 */
export async function awaitFreeCluster(room: Room): Promise<void> {
  const deadlineMs = Date.now() + SHUTDOWN_WAIT_MS_MAX;
  for (;;) {
    const holder = await readHolder(room.clusterDir);
    if (holder.kind === 'free') return;
    if (holder.kind === 'misleading') await setAside(holder);
    else if (!isOrphan(holder) || Date.now() > deadlineMs) throw refusal(room, holder);
    else await delay(POLL_MS);
  }
}

// A fast shutdown writes out at most the shared buffers; this is many times what that takes, and
// also outlasts the supervisor's own patience before it ends the server the hard way.
const SHUTDOWN_WAIT_MS_MAX = 90_000;
const POLL_MS = 50;

type HeldBy = Extract<Holder, { kind: 'held' }>;

function isOrphan({ launcherPid }: HeldBy): boolean {
  return launcherPid !== undefined && !isAlive(launcherPid);
}

/**
 * Takes away a lock file whose process id was given to a stranger. Another process may have
 * started a server since we read it; so the file is moved first, looked at again, and put back
 * when it is not the one we read.
 */
async function setAside({
  lockFile,
  content,
}: Extract<Holder, { kind: 'misleading' }>): Promise<void> {
  const aside = `${lockFile}.stale-${randomBytes(4).toString('hex')}`;
  try {
    await rename(lockFile, aside);
    if ((await readFile(aside, 'utf8')) !== content) await link(aside, lockFile);
    await rm(aside);
  } catch (error) {
    if (!['ENOENT', 'EEXIST'].includes(errorCodeOf(error))) throw error;
  }
}

function refusal(room: Room, { launcherPid, serverPid, port }: HeldBy): EmbeddedError {
  const holder =
    launcherPid === undefined || !isAlive(launcherPid)
      ? `a Postgres server, process ${serverPid} (port ${port})`
      : `process ${launcherPid} (its Postgres server is process ${serverPid}, port ${port})`;
  return new EmbeddedError(
    'held',
    `The data in ${room.clusterDir} is in use by ${holder}. Stop that process first, or set ` +
      'DATABASE_URL to use another Postgres server, or set EVENHAND_DATA_DIR to another directory ' +
      'for separate data.',
  );
}
