import { createHash } from 'node:crypto';
import { type Database, sqlOf, type Tx } from '../platform/database/database.ts';
import { inTx } from '../platform/database/in-tx.ts';
import { ProblemError } from '../platform/http/problem.ts';

/** How often something may be tried: so often at once, and then once in so many seconds. */
export interface Pace {
  /** What is tried by; only its hash is stored. */
  key: string;
  atOnceMax: number;
  everySeconds: number;
}

/**
 * How often somebody may try to sign in as an account. A guesser gets half a million tries a year,
 * which is nothing against fifteen letters; whoever mistyped waits for a minute and never for good.
 */
export function paceOfAccount(email: string): Pace {
  return { key: `account ${emailKey(email)}`, atOnceMax: 10, everySeconds: 60 };
}

/** How often it may be tried from one address, which a whole office may share. */
export function paceOfAddress(address: string): Pace {
  return { key: `address ${networkOf(address)}`, atOnceMax: 60, everySeconds: 5 };
}

/**
 * How often a code may be tried by whoever knows the password already. Of a million codes three are
 * right at a time, so that they get eighteen thousand tries a year, and one chance in twenty.
 */
export function paceOfCodes(staffId: string): Pace {
  return { key: `codes of ${staffId}`, atOnceMax: 10, everySeconds: 1_800 };
}

/** An e-mail address as it is compared. */
export function emailKey(email: string): string {
  return email.normalize('NFC').trim().toLowerCase();
}

/**
 * Counts a try before anything of it is looked at, so that many at once count as many; in the
 * database, because several processes let people in (the generic cell rate algorithm: a row holds
 * the instant at which all tries are free again).
 * @throws ProblemError 429 that says when to come again; such a try does not count
 */
export async function paceSignIn(
  db: Pick<Database, 'transact'>,
  paces: readonly Pace[],
  now: Date,
): Promise<void> {
  // Everybody takes the rows in the same order, so that no two wait for each other.
  const ordered = paces
    .map((pace) => ({ ...pace, hash: hashOf(pace.key) }))
    .sort((one, other) => Buffer.compare(one.hash, other.hash));
  await inTx(db, async (tx) => {
    const sql = sqlOf(tx);
    await sql.query(FORGET, [now]);
    for (const { hash, atOnceMax, everySeconds } of ordered) {
      const counted = await sql.query(COUNT, [hash, now, everySeconds, atOnceMax]);
      if (counted.rows.length > 0) continue;
      const kept = await sql.query<{ full_at: Date }>(READ, [hash]);
      const fullAt = kept.rows[0]?.full_at ?? now;
      const freeAtMs = fullAt.getTime() - (atOnceMax - 1) * everySeconds * 1_000;
      const retryAfterSeconds = Math.max(1, Math.ceil((freeAtMs - now.getTime()) / 1_000));
      throw new ProblemError('too-many-tries', waitText(retryAfterSeconds), { retryAfterSeconds });
    }
  });
}

/** Takes back what was counted of tries: whoever it is has shown that they may. */
export async function forgive(tx: Tx, paces: readonly Pace[]): Promise<void> {
  const ordered = paces.map(({ key }) => hashOf(key)).sort(Buffer.compare);
  for (const hash of ordered) await sqlOf(tx).query(FORGIVE, [hash]);
}

/** What is stored of what a try is counted by. */
function hashOf(key: string): Buffer {
  return createHash('sha256').update(key, 'utf8').digest();
}

function waitText(seconds: number): string {
  const wait = seconds <= 90 ? `${seconds} seconds` : `${Math.ceil(seconds / 60)} minutes`;
  return `That was tried too often. Wait ${wait}, then try again.`;
}

/** Of the newer addresses everybody has a whole network of 64 bits (RFC 4291, section 2.5.4). */
function networkOf(address: string): string {
  if (!address.includes(':') || address.includes('.')) return address;
  const [head = '', tail = ''] = address.split('::');
  const [before, after] = [head, tail].map((half) => (half === '' ? [] : half.split(':')));
  const missing = 8 - (before?.length ?? 0) - (after?.length ?? 0);
  const groups = [...(before ?? []), ...Array<string>(Math.max(0, missing)).fill('0')];
  return [...groups, ...(after ?? [])].slice(0, 4).join(':').toLowerCase();
}

const FORGET = `
  DELETE FROM sign_in_pace WHERE key_hash IN (
    SELECT key_hash FROM sign_in_pace WHERE full_at < $1 LIMIT 100 FOR UPDATE SKIP LOCKED)`;

const COUNT = `
  INSERT INTO sign_in_pace AS kept (key_hash, full_at)
  VALUES ($1, $2::timestamptz + make_interval(secs => $3))
  ON CONFLICT (key_hash) DO UPDATE
  SET full_at = GREATEST(kept.full_at, $2) + make_interval(secs => $3)
  WHERE GREATEST(kept.full_at, $2) <= $2 + make_interval(secs => $3 * ($4::int - 1))
  RETURNING full_at`;

const FORGIVE = 'DELETE FROM sign_in_pace WHERE key_hash = $1';

const READ = 'SELECT full_at FROM sign_in_pace WHERE key_hash = $1';
