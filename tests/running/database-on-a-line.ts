import { type EmbeddedServer, startEmbedded } from '../../src/platform/database/embedded/index.ts';
import { migrate } from '../../src/platform/database/migrate.ts';
import { type Line, openLine } from './open-line.ts';
import { temporaryFolder, type Undo } from './temporary.ts';

/** A database of a test's own, at an address that stays the same whatever becomes of its server. */
export interface DatabaseOnALine {
  url: string;
  line: Line;
  /** The server as it is now. */
  server(): EmbeddedServer;
  /** Starts a server on the same data again. */
  startAgain(): Promise<void>;
}

export async function databaseOnALine(undo: Undo): Promise<DatabaseOnALine> {
  const dataDir = await temporaryFolder(undo);
  let server = await startEmbedded({ dataDir });
  undo.push(() => server.stop());
  const line = await openLine(() => Number(new URL(server.superuserUrl).port));
  undo.push(line.close);
  const url = new URL(server.superuserUrl);
  url.port = String(line.port);
  await migrate(url.href);
  return {
    ...{ url: url.href, line },
    server: () => server,
    startAgain: async () => {
      server = await startEmbedded({ dataDir });
    },
  };
}
