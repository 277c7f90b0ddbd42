import { readFile } from 'node:fs/promises';
import path from 'node:path';
import { EmbeddedError } from './embedded-error.ts';
import type { Binaries } from './find-binaries.ts';
import type { Room } from './find-room.ts';

/**
 * Refuses data that another major version of Postgres has written: their files differ.
 * @throws EmbeddedError 'other_major'
 */
export async function refuseOtherMajor(binaries: Binaries, room: Room): Promise<void> {
  const major = (await readFile(path.join(room.clusterDir, 'PG_VERSION'), 'utf8')).trim();
  if (major === binaries.major) return;
  throw new EmbeddedError(
    'other_major',
    `The data in ${room.clusterDir} was made by Postgres ${major}, and this program brings ` +
      `Postgres ${binaries.major}. Carry it over with a dump and restore, serve it with Postgres ` +
      `${major} and set DATABASE_URL, or set EVENHAND_DATA_DIR to another directory to start anew.`,
  );
}
