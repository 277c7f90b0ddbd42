import { readFile } from 'node:fs/promises';
import path from 'node:path';
import { errorCodeOf } from './error-code-of.ts';
import { isAlive } from './is-alive.ts';
import { readCommand } from './read-command.ts';

/**
 * What Postgres' lock file says about its cluster.
 * - free: no lock file, or its process is gone; Postgres itself clears such a file away.
 * - misleading: its process id now belongs to a stranger, which Postgres cannot tell.
 * - held: a server runs on the data.
 */
export type Holder =
  | { kind: 'free' }
  | { kind: 'misleading'; lockFile: string; content: string }
  | {
      kind: 'held';
      serverPid: number;
      launcherPid: number | undefined;
      port: number;
      ready: boolean;
    };

/** Marks a server's command line (and its name in a process list) with the process that owns it. */
export function launcherMark(launcherPid: number): string {
  return `cluster_name=evenhand_${launcherPid}`;
}

/** Reads who holds a cluster. Postgres' own lock file has the last word; we keep none of our own. */
export async function readHolder(clusterDir: string): Promise<Holder> {
  const lockFile = path.join(clusterDir, 'postmaster.pid');
  const content = await readOrEmpty(lockFile);
  // Lines: process id, data directory, start time, port, socket directory, address, shared memory
  // key, status (PostgreSQL source, src/include/utils/pidfile.h).
  const [pid = '', , , port = '', , , , status = ''] = content.split('\n');
  const serverPid = Number(pid);
  if (!(serverPid > 0) || !isAlive(serverPid)) return { kind: 'free' };
  const command = (await readCommand(serverPid)) ?? [];
  if (!isServerOn(clusterDir, command)) {
    return isAlive(serverPid) ? { kind: 'misleading', lockFile, content } : { kind: 'free' };
  }
  return {
    kind: 'held',
    serverPid,
    launcherPid: launcherOf(command),
    port: Number(port),
    ready: status.trim() === 'ready',
  };
}

async function readOrEmpty(file: string): Promise<string> {
  try {
    return await readFile(file, 'utf8');
  } catch (error) {
    if (errorCodeOf(error) === 'ENOENT') return '';
    throw error;
  }
}

/**
 * A postmaster keeps the command line it was started with; its children rename themselves to
 * "postgres: ...". One that was started by hand without -D may still be ours.
 */
function isServerOn(clusterDir: string, command: readonly string[]): boolean {
  if (path.basename(command[0] ?? '') !== 'postgres') return false;
  const line = ` ${command.join(' ')} `;
  return !line.includes(' -D /') || line.includes(` -D ${clusterDir} `);
}

function launcherOf(command: readonly string[]): number | undefined {
  const pid = /cluster_name=evenhand_(\d+)/.exec(command.join(' '))?.[1];
  return pid === undefined ? undefined : Number(pid);
}
