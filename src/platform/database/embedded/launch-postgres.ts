import { constants, type FileHandle, open, readFile, rename, stat } from 'node:fs/promises';
import path from 'node:path';
import { setTimeout as delay } from 'node:timers/promises';
import { awaitFreeCluster } from './await-free-cluster.ts';
import type { Account } from './choose-account.ts';
import { EmbeddedError } from './embedded-error.ts';
import { explainFailure } from './explain-failure.ts';
import type { Binaries } from './find-binaries.ts';
import { findFreePort } from './find-free-port.ts';
import type { Room } from './find-room.ts';
import { launcherMark, readHolder } from './read-holder.ts';
import { runSupervised, type Supervised } from './run-supervised.ts';

/** A server that accepts connections on 127.0.0.1. */
export type RunningPostgres = { port: number; program: Supervised };

/**
 * Starts Postgres on the room's cluster and returns when it accepts connections. Tries again with
 * another port when the chosen one was taken, and looks again at the holder when another process
 * was quicker to lock the data: Postgres' own lock decides between two starters.
 * @throws EmbeddedError 'held', 'start_failed', 'disk_full', 'not_writable'
 */
export async function launchPostgres(binaries: Binaries, room: Room): Promise<RunningPostgres> {
  let words = '';
  for (let attempt = 1; attempt <= ATTEMPTS_MAX; attempt++) {
    await awaitFreeCluster(room);
    const port = await findFreePort();
    const outcome = await tryToLaunch(binaries, room, port);
    if (outcome.kind === 'ready') return { port, program: outcome.program };
    words = outcome.words;
    if (!WORTH_ANOTHER_TRY.test(words)) break;
    await delay(PAUSE_MS);
  }
  throw explainFailure(words, room.dir);
}

const ATTEMPTS_MAX = 10;
const PAUSE_MS = 100;

// A lock file is empty for the moment in which another server writes itself into it. The last sign:
// after a crash, a backend that is still ending holds the old shared memory.
const WORTH_ANOTHER_TRY =
  /address already in use|lock file "postmaster.pid" (?:already exists|is empty)|pre-existing shared memory block/i;

type Outcome = { kind: 'ready'; program: Supervised } | { kind: 'failed'; words: string };

async function tryToLaunch(binaries: Binaries, room: Room, port: number): Promise<Outcome> {
  const logFile = path.join(room.storeDir, 'server.log');
  const log = await openLog(logFile, room.account);
  try {
    const { size } = await log.stat();
    const command = commandFor(binaries, room, port);
    const program = await runSupervised({ account: room.account, command, output: log.fd });
    if (await becomesReady(program, room)) return { kind: 'ready', program };
    return { kind: 'failed', words: (await readFile(logFile)).subarray(size).toString() };
  } finally {
    await log.close();
  }
}

function commandFor(binaries: Binaries, room: Room, port: number): readonly string[] {
  const settings = [
    launcherMark(process.pid),
    'listen_addresses=127.0.0.1',
    'unix_socket_directories=',
    'shared_buffers=128MB',
    'max_connections=50',
    'timezone=UTC',
    'log_timezone=UTC',
    // A refused statement or a duplicate key would put a customer's name and telephone number into
    // a log that nobody thinks of when a person must be forgotten.
    'log_error_verbosity=terse',
    'log_min_error_statement=panic',
  ];
  const server = path.join(binaries.nativeDir, 'bin', 'postgres');
  const flags = settings.flatMap((setting) => ['-c', setting]);
  return [server, '-D', room.clusterDir, '-p', `${port}`, ...flags];
}

/** The log belongs to the account of the server. A link in its place is refused: in a directory
 * that an ordinary user owns, it could lead root to write into any file. */
async function openLog(logFile: string, account: Account | undefined): Promise<FileHandle> {
  const size = await stat(logFile).then(
    (stats) => stats.size,
    () => 0,
  );
  if (size > LOG_BYTES_MAX) await rename(logFile, `${logFile}.old`);
  const { O_APPEND, O_CREAT, O_NOFOLLOW, O_WRONLY } = constants;
  const log = await open(logFile, O_WRONLY | O_APPEND | O_CREAT | O_NOFOLLOW, 0o600);
  if (account !== undefined) await log.chown(account.uid, account.gid);
  return log;
}

const LOG_BYTES_MAX = 10_000_000;

/** False when the program ended before it was ready. */
async function becomesReady(program: Supervised, room: Room): Promise<boolean> {
  const ended = program.ended.then(() => true);
  const deadlineMs = Date.now() + RECOVERY_MS_MAX;
  while (Date.now() < deadlineMs) {
    const holder = await readHolder(room.clusterDir);
    if (holder.kind === 'held' && holder.serverPid === program.pid && holder.ready) return true;
    if (await Promise.race([ended, delay(POLL_MS, false)])) return false;
  }
  program.release();
  await ended;
  throw new EmbeddedError(
    'start_failed',
    `Postgres on ${room.clusterDir} was not ready after ${RECOVERY_MS_MAX / 60_000} minutes; it was ` +
      `stopped. Its log is ${path.join(room.storeDir, 'server.log')}.`,
  );
}

const POLL_MS = 20;

// After a crash the server first replays its log, which takes minutes at worst.
const RECOVERY_MS_MAX = 600_000;
