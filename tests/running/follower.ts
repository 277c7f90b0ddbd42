import { copyFile, lchown, mkdir, readdir, rm, writeFile } from 'node:fs/promises';
import path from 'node:path';
import pg from 'pg';
import {
  type EmbeddedServer,
  findRoom,
  startEmbedded,
} from '../../src/platform/database/embedded/index.ts';
import { type Line, openLine } from './open-line.ts';
import { temporaryFolder, type Undo } from './temporary.ts';

/** A server that follows another one, at an address that stays the same whatever becomes of it. */
export interface Follower {
  /** Of the database `postgres`, as the administrator of both servers. */
  url: string;
  line: Line;
  /** The server as it is now. */
  server(): EmbeddedServer;
  /** Starts a server on the same data again. */
  startAgain(): Promise<void>;
}

/**
 * Makes a server that follows another one by streaming replication, from a copy of its files made
 * while it runs (PostgreSQL 18, 25.3.4: "Making a Base Backup Using the Low Level API"), and starts
 * it.
 */
export async function startFollower(
  undo: Undo,
  main: { dataDir: string; server: EmbeddedServer },
): Promise<Follower> {
  const dataDir = await temporaryFolder(undo);
  // A server of its own gives the copy its place and its account; its data are thrown away.
  await (await startEmbedded({ dataDir })).stop();
  await copyServer(main, dataDir);
  let server = await startEmbedded({ dataDir });
  undo.push(() => server.stop());
  const line = await openLine(() => server.port);
  undo.push(line.close);
  const url = new URL(server.superuserUrl);
  url.port = String(line.port);
  return {
    ...{ url: url.href, line },
    server: () => server,
    startAgain: async () => {
      server = await startEmbedded({ dataDir });
    },
  };
}

async function copyServer(
  main: { dataDir: string; server: EmbeddedServer },
  dataDir: string,
): Promise<void> {
  const [from, to] = [await roomOf(main.dataDir), await roomOf(dataDir)];
  await rm(to.clusterDir, { recursive: true });
  const client = new pg.Client({ connectionString: main.server.superuserUrl });
  await client.connect();
  try {
    // What a follower has not had yet is kept, also while it is away.
    await client.query(`ALTER SYSTEM SET wal_keep_size = '512MB'`);
    await client.query('SELECT pg_reload_conf()');
    await client.query(`SELECT pg_backup_start('follower', fast => true)`);
    await copyFolder(from.clusterDir, to.clusterDir);
    const { rows } = await client.query<{ labelfile: string }>(
      'SELECT labelfile FROM pg_backup_stop(wait_for_archive => false)',
    );
    await writeFile(path.join(to.clusterDir, 'backup_label'), rows[0]?.labelfile ?? '');
  } finally {
    await client.end();
  }
  await copyFile(from.passwordFile, to.passwordFile);
  await writeFile(path.join(to.clusterDir, 'standby.signal'), '');
  await writeFile(
    path.join(to.clusterDir, 'postgresql.auto.conf'),
    `primary_conninfo = '${main.server.superuserUrl}'\n`,
  );
  if (from.account !== undefined) await giveTo(from.account, to.clusterDir);
}

async function roomOf(dataDir: string) {
  const room = await findRoom(dataDir);
  if (room === undefined) throw new Error(`${dataDir} has no server`);
  return room;
}

/** All but what belongs to the running server; what it removes meanwhile is not needed. */
async function copyFolder(from: string, to: string): Promise<void> {
  await mkdir(to, { mode: 0o700 });
  for (const entry of await readdir(from, { withFileTypes: true })) {
    const [source, target] = [path.join(from, entry.name), path.join(to, entry.name)];
    if (/^postmaster\./.test(entry.name)) continue;
    if (entry.isDirectory()) {
      if (
        !/^pg_(wal|replslot|dynshmem|notify|serial|snapshots|stat_tmp|subtrans)$/.test(entry.name)
      )
        await copyFolder(source, target);
      else await mkdir(target, { mode: 0o700 });
    } else await copyFile(source, target).catch(passOverMissing);
  }
}

function passOverMissing(error: NodeJS.ErrnoException): void {
  if (error.code !== 'ENOENT') throw error;
}

async function giveTo({ uid, gid }: { uid: number; gid: number }, folder: string): Promise<void> {
  await lchown(folder, uid, gid);
  for (const name of await readdir(folder, { recursive: true })) {
    await lchown(path.join(folder, name), uid, gid);
  }
}
