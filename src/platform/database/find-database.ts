import type { Config } from '../config.ts';
import { attachEmbedded, findRoom, startEmbedded } from './embedded/index.ts';

/** A database to look into, and how to leave it as it was found. */
export type FoundDatabase = { url: string; stop(): Promise<void> };

/**
 * The running service's database where there is one; otherwise its own, started for this.
 * @throws Error when there is none
 */
export async function findDatabase({
  databaseUrl,
  dataDir,
}: Pick<Config, 'databaseUrl' | 'dataDir'>): Promise<FoundDatabase> {
  if (databaseUrl !== undefined) return { url: databaseUrl, stop: async () => undefined };
  const running = await attachEmbedded({ dataDir });
  if (running !== undefined) {
    return { url: running.urlFor('evenhand'), stop: async () => undefined };
  }
  if ((await findRoom(dataDir)) === undefined)
    throw new Error(`There is no database in ${dataDir}.`);
  const server = await startEmbedded({ dataDir, log: console.log });
  return { url: server.urlFor('evenhand'), stop: server.stop };
}
