import { connectionTo, type EmbeddedConnection } from './connection-to.ts';
import { createCluster } from './create-cluster.ts';
import { EmbeddedError } from './embedded-error.ts';
import { explainFailure } from './explain-failure.ts';
import { type Binaries, findBinaries } from './find-binaries.ts';
import { findOrMakeRoom, type Room } from './find-room.ts';
import { launchPostgres } from './launch-postgres.ts';
import { placeBinaries } from './place-binaries.ts';
import { refuseOtherMajor } from './refuse-other-major.ts';
import type { Supervised } from './run-supervised.ts';
import { stopPostgres } from './stop-postgres.ts';

export type EmbeddedServer = EmbeddedConnection & {
  /** Resolves when the server ends although nobody called stop; never rejects. */
  unexpectedEnd: Promise<EmbeddedError>;
  /** Shuts the server down and waits for its end. May be called again; never rejects. */
  stop: () => Promise<void>;
};

type Options = { dataDir: string; log?: (line: string) => void };

/**
 * Starts a real Postgres server of our own on `dataDir`, which is made and initialized when it does
 * not exist, and returns when it accepts connections. It listens on 127.0.0.1 only, ends with this
 * process however that ends, and does not keep this process alive.
 * @throws EmbeddedError with a code and a plain message for the person who started the program
 */
export async function startEmbedded({ dataDir, log = () => {} }: Options): Promise<EmbeddedServer> {
  try {
    const installed = await findBinaries();
    const room = await findOrMakeRoom(dataDir, log);
    const binaries = await placeBinaries(installed, room, log);
    return await serve(binaries, room);
  } catch (error) {
    if (error instanceof EmbeddedError) throw error;
    throw explainFailure(String(error), dataDir, { cause: error });
  }
}

async function serve(binaries: Binaries, room: Room): Promise<EmbeddedServer> {
  await createCluster(binaries, room);
  await refuseOtherMajor(binaries, room);
  const { port, program } = await launchPostgres(binaries, room);
  try {
    const connection = await connectionTo(room, port);
    program.unref();
    return { ...connection, ...endings(program) };
  } catch (error) {
    await stopPostgres(program);
    throw error;
  }
}

function endings(program: Supervised): Pick<EmbeddedServer, 'unexpectedEnd' | 'stop'> {
  let stopping: Promise<void> | undefined;
  const unexpectedEnd = new Promise<EmbeddedError>((resolve) => {
    void program.ended.then((status) => {
      if (stopping === undefined) resolve(endedByItself(status));
    });
  });
  const stop = () => {
    stopping ??= stopPostgres(program);
    return stopping;
  };
  return { unexpectedEnd, stop };
}

function endedByItself(status: number): EmbeddedError {
  return new EmbeddedError('ended', `The embedded Postgres ended by itself with status ${status}.`);
}
