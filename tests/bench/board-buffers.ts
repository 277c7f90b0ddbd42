import type pg from 'pg';
import { pino } from 'pino';
import { boardOf } from '../../src/board/board-of.ts';
import { type Database, sqlOn } from '../../src/platform/database/database.ts';
import { buffersOf, type Sent } from './buffers-of.ts';
import { filledDay } from './filled-day.ts';
import { rehearseStatements } from './servers/record-statements.ts';

/** A statement, and the pages that it touched. */
export interface TouchedBy extends Sent {
  buffers: number;
}

/** Pages touched by every statement of one look at the board. */
export async function boardBuffers(
  client: pg.Client,
  db: Pick<Database, 'prisma' | 'pool'>,
): Promise<TouchedBy[]> {
  const recorder = rehearseStatements();
  try {
    await lookAtBoard(db);
    const sent = recorder.take().filter(({ text }) => text.trimStart().startsWith('SELECT'));
    const touched: TouchedBy[] = [];
    for (const each of sent) {
      const buffers = await buffersOf(client, [each]);
      touched.push({ ...each, buffers });
    }
    return touched;
  } finally {
    recorder.stop();
  }
}

/** A look as the owner takes it, as the route does. */
export function lookAtBoard({ prisma, pool }: Pick<Database, 'prisma' | 'pool'>) {
  const { day, now } = filledDay;
  const actor = { kind: 'staff', id: NOBODY, role: 'owner', name: 'The owner' } as const;
  const log = pino({ level: 'silent' });
  return boardOf({ prisma, sql: sqlOn(pool), now, requestId: 'bench', actor, log }, day);
}

const NOBODY = '00000000-0000-4000-8000-000000000000';
