import { setTimeout as wait } from 'node:timers/promises';
import type pg from 'pg';
import { whyUnreachable } from '../database/require-reachable.ts';

/** Connections on which a server is asked how it is. */
export type Asked = Pick<pg.Pool, 'query'>;

/** Two servers, and the role that sessions of both are to take. */
export interface Pair {
  main: Asked;
  replica: Asked;
  role: string;
}

/** Why reports are not read from a server, in words that stay the same while the reason does. */
export class NotUsable extends Error {}

/**
 * Waits until a replica has everything that was committed to the main database before this was
 * called, so that whoever changes something and then asks for a report finds it in there.
 * @param withinMs how long it waits for what is missing
 * @throws NotUsable when the server is no replica of that database, is away or stays behind
 */
export async function catchUp(pair: Pair, withinMs = CATCH_UP_MS_MAX): Promise<void> {
  const mark = await setMark(pair.main);
  const deadlineMs = performance.now() + withinMs;
  for (;;) {
    const standing = await askReplica(pair, mark);
    requireFollowing(standing);
    if (standing.hasMark) return;
    if (performance.now() > deadlineMs) throw new NotUsable('the replica is too far behind');
    await wait(POLL_MS);
  }
}

/** Whoever asked for a report waits so long at most; a replica that is well takes milliseconds. */
const CATCH_UP_MS_MAX = 3_000;
const POLL_MS = 10;

/** A place in the log of changes, and whose log it is. */
interface Mark {
  position: string;
  system: string;
  /** Eight hexadecimal digits: another one from when a server was restored or became the main one. */
  timeline: string;
  database: string;
}

/**
 * Writes a mark into the log of changes, which changes nothing. It stands behind every commit that
 * anybody can see by now, and goes out at once. The end of what is written already would not do: it
 * may be inside a record whose rest goes out much later, and before commits that wait for no disk.
 */
function setMark(main: Asked): Promise<Mark> {
  return ask<Mark>(
    'the main database',
    main,
    `SELECT pg_logical_emit_message(false, 'report', '', true)::text AS position,
       system_identifier::text AS system, current_database() AS database,
       left(pg_walfile_name(pg_current_wal_lsn()), 8) AS timeline
     FROM pg_control_system()`,
  );
}

/** How a server stands to the main one. */
interface Standing {
  isReplica: boolean;
  isOfDatabase: boolean;
  isOnTimeline: boolean;
  /** Its sessions are what they were told to be, as they are not behind every connection pooler. */
  isAsTold: boolean;
  hasMark: boolean;
}

// Asked each time: an address leads to another server from one moment to the next, and a replica
// that becomes the main one lets go of no connection.
function askReplica(
  { replica, role }: Pair,
  { position, system, timeline, database }: Mark,
): Promise<Standing> {
  return ask<Standing>(
    'the replica',
    replica,
    `SELECT pg_is_in_recovery() AS "isReplica",
       system_identifier::text = $2 AND current_database() = $4 AS "isOfDatabase",
       lpad(upper(to_hex(timeline_id)), 8, '0') = $3 AS "isOnTimeline",
       current_setting('TimeZone') = 'UTC' AND current_user = $5 AS "isAsTold",
       coalesce(pg_last_wal_replay_lsn() >= $1::pg_lsn, false) AS "hasMark"
     FROM pg_control_system(), pg_control_checkpoint()`,
    [position, system, timeline, database, role],
  );
}

function requireFollowing(standing: Standing): void {
  const { isReplica, isOfDatabase, isOnTimeline, isAsTold } = standing;
  if (!isReplica) throw new NotUsable('the server given as its replica is none');
  if (!isOfDatabase) throw new NotUsable('the replica is one of another database');
  // Once the main one was restored or replaced, its former replica may be ahead, in another past.
  if (!isOnTimeline) throw new NotUsable('the replica follows another server than the main one');
  if (!isAsTold) throw new NotUsable('sessions of the replica have another time zone or role');
}

async function ask<Row extends pg.QueryResultRow>(
  who: string,
  server: Asked,
  statement: string,
  values: unknown[] = [],
): Promise<Row> {
  const { rows } = await server.query<Row>(statement, values).catch((error: unknown) => {
    throw new NotUsable(`${who} ${whyUnreachable(error)}`, { cause: error });
  });
  const [row] = rows;
  if (row === undefined) throw new Error('a statement without a condition has a row');
  return row;
}
