import { once } from 'node:events';
import { finished } from 'node:stream/promises';
import type pg from 'pg';
import { from as copyFrom } from 'pg-copy-streams';
import { type Row, writeCopyLine } from './copy-text.ts';
import type { TableLine } from './file-lines.ts';

/** Rows on their way into a table. */
export interface Copy {
  write(rows: readonly Row[]): Promise<void>;
  /** Resolves when the database has taken them all. */
  finish(): Promise<void>;
  /** Gives up; none of them is taken. */
  abort(): Promise<void>;
}

/** Begins to put rows into a table by one statement: rows of it may name each other in any order. */
export function beginCopy(client: pg.Client, { table, columns }: TableLine): Copy {
  const names = columns.map(({ name }) => client.escapeIdentifier(name)).join(', ');
  const stream = client.query(
    copyFrom(`COPY ${client.escapeIdentifier(table)} (${names}) FROM STDIN`),
  );
  const done = finished(stream).catch((error: Error) => {
    throw new Error(`The rows of ${table} do not fit: ${error.message}`, { cause: error });
  });
  // Whoever writes or finishes is told; this only keeps the process from ending before that.
  done.catch(() => undefined);
  return {
    write: async (rows) => {
      if (!stream.write(rows.map(writeCopyLine).join(''))) {
        await Promise.race([once(stream, 'drain'), done]);
      }
    },
    finish: () => {
      stream.end();
      return done;
    },
    abort: async () => {
      stream.destroy(new Error('given up'));
      await done.catch(() => undefined);
    },
  };
}
