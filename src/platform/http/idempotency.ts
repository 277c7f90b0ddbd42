import { canonicalJson } from '../canonical-json.ts';
import { type Sql, sqlOf, type Tx } from '../database/database.ts';
import { sha256 } from '../sha256.ts';
import { ProblemError } from './problem.ts';

/** An act as far as repeating it is concerned. */
export interface Attempt {
  actorId: string;
  method: string;
  route: string;
  key: string;
  fingerprint: string;
}

/** The first answer, ready to be sent again byte for byte. */
export interface StoredReply {
  status: number;
  headers: Record<string, string>;
  body: string;
}

/** For how long an answer is kept for repetition. */
export const keptHours = 24;

/**
 * The key in an Idempotency-Key header: a structured-field string in quotes, as the IETF draft
 * asks, or the bare text that many clients send.
 * @throws ProblemError 400 when it is missing, empty, too long or holds control characters
 */
export function readIdempotencyKey(header: string | string[] | undefined): string {
  const value = Array.isArray(header) ? header[0] : header;
  const key = value?.trim().replace(/^"(.*)"$/, '$1');
  if (key === undefined || !/^[\x21-\x7e]{1,200}$/.test(key)) {
    throw new ProblemError(
      'idempotency-key-missing',
      'Send an Idempotency-Key header of 1 to 200 visible ASCII characters.',
    );
  }
  return key;
}

/**
 * One text for one request: the same act repeated has the same fingerprint. A query is part of it
 * only where there is one, as hardly any act has; so all other acts keep the fingerprints they had.
 */
export function fingerprintOf(request: {
  params: unknown;
  query: unknown;
  body: unknown;
  ifMatch: string | undefined;
}): string {
  return sha256(
    canonicalJson({
      params: request.params,
      ...(hasMembers(request.query) && { query: request.query }),
      body: request.body ?? null,
      ifMatch: request.ifMatch ?? null,
    }),
  );
}

function hasMembers(query: unknown): boolean {
  return typeof query === 'object' && query !== null && Object.keys(query).length > 0;
}

/**
 * Claims the key for this transaction. Holding the lock until commit makes a second request with
 * the same key fail at once instead of waiting, and makes effect and answer one.
 * @returns the answer given earlier, or undefined when this is the first time in 24 hours
 * @throws ProblemError 409 while another request holds the key, 422 for another request's key
 */
export async function claimKey(
  tx: Tx,
  attempt: Attempt,
  now: Date,
): Promise<StoredReply | undefined> {
  const sql = sqlOf(tx);
  const lock = await sql.query<{ held: boolean }>(LOCK, [
    [attempt.actorId, attempt.method, attempt.route, attempt.key].join(' '),
  ]);
  if (lock.rows[0]?.held !== true) {
    throw new ProblemError(
      'request-in-progress',
      'A request with this Idempotency-Key is still running.',
    );
  }
  const found = await sql.query<EarlierReply>(FIND, keyOf(attempt));
  const earlier = found.rows[0];
  if (earlier === undefined) return undefined;
  if (earlier.createdAt < oldestKept(now)) {
    await sql.query(FORGET, keyOf(attempt));
    return undefined;
  }
  if (earlier.fingerprint !== attempt.fingerprint) {
    throw new ProblemError(
      'idempotency-key-reused',
      'This Idempotency-Key came earlier with a different request. Take a new key for this one.',
    );
  }
  return { status: earlier.status, headers: earlier.headers, body: earlier.body };
}

/** Keeps the answer beside its effect, in the same transaction. */
export async function keepReply(
  tx: Tx,
  attempt: Attempt,
  reply: StoredReply,
  now: Date,
): Promise<void> {
  await sqlOf(tx).query(KEEP, [
    ...keyOf(attempt),
    attempt.fingerprint,
    reply.status,
    JSON.stringify(reply.headers),
    reply.body,
    now,
  ]);
}

/** Forgets answers older than they are kept for. @returns how many */
export async function forgetOldReplies(sql: Sql, now: Date): Promise<number> {
  const gone = await sql.query(FORGET_OLD, [oldestKept(now)]);
  return gone.rowCount ?? 0;
}

interface EarlierReply extends StoredReply {
  fingerprint: string;
  createdAt: Date;
}

function oldestKept(now: Date): Date {
  return new Date(now.getTime() - keptHours * 3_600_000);
}

function keyOf(attempt: Attempt): string[] {
  return [attempt.actorId, attempt.method, attempt.route, attempt.key];
}

const LOCK = 'SELECT pg_try_advisory_xact_lock(hashtextextended($1, 1)) AS held';
const FIND = `
  SELECT fingerprint, status, headers, body, created_at AS "createdAt" FROM idempotency_key
  WHERE actor_id = $1 AND method = $2 AND route = $3 AND key = $4`;
const FORGET = `
  DELETE FROM idempotency_key
  WHERE actor_id = $1 AND method = $2 AND route = $3 AND key = $4`;
const FORGET_OLD = 'DELETE FROM idempotency_key WHERE created_at < $1';
const KEEP = `
  INSERT INTO idempotency_key
    (actor_id, method, route, key, fingerprint, status, headers, body, created_at)
  VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9)`;
