import { connectionTo, type EmbeddedConnection } from './connection-to.ts';
import { findRoom } from './find-room.ts';
import { readHolder } from './read-holder.ts';

/**
 * The connection of the server that another process runs on `dataDir`, for command-line tools;
 * undefined when none is running there. Starts and changes nothing.
 * @throws EmbeddedError 'not_ours' or 'untrusted_place'
 */
export async function attachEmbedded({
  dataDir,
}: {
  dataDir: string;
}): Promise<EmbeddedConnection | undefined> {
  const room = await findRoom(dataDir);
  if (room === undefined) return undefined;
  const holder = await readHolder(room.clusterDir);
  if (holder.kind !== 'held' || !holder.ready) return undefined;
  return connectionTo(room, holder.port);
}
