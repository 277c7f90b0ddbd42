import { createHash } from 'node:crypto';
import {
  chmod,
  lstat,
  mkdir,
  mkdtemp,
  readdir,
  readlink,
  realpath,
  rmdir,
  stat,
  symlink,
} from 'node:fs/promises';
import path from 'node:path';
import { type Account, chooseAccount } from './choose-account.ts';
import { EmbeddedError } from './embedded-error.ts';
import { errorCodeOf } from './error-code-of.ts';
import { runToEnd } from './run-to-end.ts';

/** Where one embedded server lives, and as whom. */
export type Room = {
  /** The directory that holds everything of this server; Postgres' account can reach it. */
  dir: string;
  /** What becomes the finished cluster: the data and the password beside it. */
  storeDir: string;
  /** Postgres' own data directory. */
  clusterDir: string;
  passwordFile: string;
  account: Account | undefined;
};

/**
 * Finds the room of a data directory without changing anything: the data directory itself, or the
 * distant room that its link `postgres` points to. Undefined when there is neither.
 * @throws EmbeddedError 'untrusted_place' or 'not_ours'
 */
export async function findRoom(dataDir: string): Promise<Room | undefined> {
  const store = path.join(dataDir, STORE);
  const kind = await kindOf(store);
  if (kind === 'nothing') return undefined;
  const roomDir = kind === 'link' ? await trustedRoomOf(store) : await realpath(dataDir);
  return roomAt(roomDir);
}

/**
 * Finds the room of a data directory, or makes it. When Postgres must run under another account
 * and that account cannot reach the data directory (a checkout under /root, say), the room is made
 * under /var/tmp and the data directory keeps a link to it.
 * @throws EmbeddedError 'untrusted_place', 'not_ours' or 'no_account'
 */
export async function findOrMakeRoom(dataDir: string, log: (line: string) => void): Promise<Room> {
  await makeDataDir(dataDir);
  const found = await findRoom(dataDir);
  if (found !== undefined) {
    await refuseUnreachable(found);
    return found;
  }
  const near = await roomAt(await realpath(dataDir));
  if (near.account === undefined || (await canReach(near.account, near.dir))) return near;
  return makeDistantRoom(near, log);
}

const STORE = 'postgres';
const DISTANT_PARENT = '/var/tmp';
const DISTANT_PREFIX = 'evenhand-';

async function roomAt(dir: string): Promise<Room> {
  const storeDir = path.join(dir, STORE);
  const clusterDir = path.join(storeDir, 'data');
  const passwordFile = path.join(storeDir, 'superuser-password');
  return { dir, storeDir, clusterDir, passwordFile, account: await chooseAccount(clusterDir) };
}

async function kindOf(file: string): Promise<'nothing' | 'link' | 'other'> {
  try {
    return (await lstat(file)).isSymbolicLink() ? 'link' : 'other';
  } catch (error) {
    if (errorCodeOf(error) === 'ENOENT') return 'nothing';
    throw error;
  }
}

async function makeDataDir(dataDir: string): Promise<void> {
  await mkdir(dataDir, { recursive: true });
  const { uid } = await stat(dataDir);
  const isOursToArrange = uid === process.getuid?.() && (await readdir(dataDir)).length === 0;
  // Root must let Postgres' account pass through, without letting anybody list the names. Whoever
  // sees the directory empty does this, not only the one who made it: of two starters, the second
  // would otherwise find the way still closed and move out.
  if (isOursToArrange) await chmod(dataDir, uid === 0 ? 0o711 : 0o700);
}

/** True when the account can enter the directory; tried rather than computed, so that access
 * lists and security modules have their say. */
async function canReach(account: Account, directory: string): Promise<boolean> {
  const { status } = await runToEnd(account, ['/bin/sh', '-c', 'cd -- "$1"', 'sh', directory]);
  return status === 0;
}

async function makeDistantRoom(near: Room, log: (line: string) => void): Promise<Room> {
  const hash = createHash('sha256').update(near.dir).digest('hex').slice(0, 12);
  // mkdtemp never takes over an existing directory, so nobody can plant one for us. The random
  // ending also keeps a deleted and recreated checkout from waking up with its former data.
  const dir = await mkdtemp(path.join(DISTANT_PARENT, `${DISTANT_PREFIX}${hash}-`));
  await chmod(dir, 0o711);
  try {
    await symlink(path.join(dir, STORE), near.storeDir);
  } catch (error) {
    if (errorCodeOf(error) !== 'EEXIST') throw error;
    // Another process that starts at the same moment linked its own room first; it counts.
    await rmdir(dir);
    return findOrMakeRoom(near.dir, log);
  }
  log(
    `Postgres runs as ${near.account?.name} and cannot enter ${near.dir}, so the database is kept in ` +
      `${dir}. Some systems clear /var/tmp after weeks of rest: for lasting data set EVENHAND_DATA_DIR ` +
      'to a directory that every account can pass through.',
  );
  return roomAt(dir);
}

/** Data in use is not moved by itself: whoever closed the way to it may not have meant to. */
async function refuseUnreachable({ account, dir }: Room): Promise<void> {
  if (account === undefined || (await canReach(account, dir))) return;
  throw new EmbeddedError(
    'not_writable',
    `Postgres runs as ${account.name} on the data in ${dir}, and that account can no longer enter ` +
      'the directory. Let it pass again (chmod o+x on each directory above it), or move the data.',
  );
}

async function trustedRoomOf(link: string): Promise<string> {
  const target = await readlink(link);
  const dir = path.dirname(target);
  const expected = path.join(DISTANT_PARENT, path.basename(dir), STORE);
  if (target !== expected || !path.basename(dir).startsWith(DISTANT_PREFIX)) {
    throw untrusted(link, target, 'that is not a place where this program keeps data');
  }
  const doubt = await doubtAbout(dir);
  if (doubt !== undefined) throw untrusted(link, target, doubt);
  return dir;
}

/** /var/tmp is open to everybody, so what stands there must be proven to be ours. */
async function doubtAbout(dir: string): Promise<string | undefined> {
  try {
    const stats = await lstat(dir);
    if (!stats.isDirectory()) return `${dir} is not a directory`;
    if (stats.uid !== process.getuid?.()) return `${dir} belongs to uid ${stats.uid}, not to us`;
    if ((stats.mode & 0o022) !== 0) return `other accounts can write to ${dir}`;
    return undefined;
  } catch (error) {
    if (errorCodeOf(error) === 'ENOENT') return `${dir} does not exist any more`;
    throw error;
  }
}

function untrusted(link: string, target: string, doubt: string): EmbeddedError {
  return new EmbeddedError(
    'untrusted_place',
    `${link} points to ${target}, but ${doubt}. Look into it; to start anew, remove the link, or set ` +
      'EVENHAND_DATA_DIR to another directory.',
  );
}
