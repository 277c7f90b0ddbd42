import { createHash } from 'node:crypto';

/** The columns of an entry in the order they are sealed, each as the exact text the server gives. */
export const sealedColumns = [
  'id',
  'at',
  'actor_kind',
  'actor_id',
  'actor_role',
  'request_id',
  'event',
  'subject_kind',
  'subject_id',
  'changes',
] as const;

/** The text of every column of an entry; null where the column is null. */
export type EntryTexts = Record<(typeof sealedColumns)[number], string | null>;

/**
 * SQL that selects every column of `journal_entry e` as canonical text. Instants carry microseconds
 * and are written in UTC whatever the session says.
 */
export const entryTextsSql = sealedColumns
  .map((column) =>
    column === 'at'
      ? `to_char(e.at AT TIME ZONE 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.US"Z"') AS at`
      : `e.${column}::text AS ${column}`,
  )
  .join(', ');

/** The hash before the first entry. */
export const genesisHash = '0'.repeat(64);

/**
 * The hash that seals an entry at its position, chained to the one before: SHA-256 over the
 * previous hash, the position, and every column with its name, the byte length of its text and
 * the text, so that no two different rows have the same input.
 */
export function sealHash(previous: string, position: bigint, entry: EntryTexts): string {
  const hash = createHash('sha256').update(`${previous}\n${position}\n`);
  for (const column of sealedColumns) {
    const value = entry[column];
    const length = value === null ? 'null' : Buffer.byteLength(value);
    hash.update(`${column} ${length} ${value ?? ''}\n`);
  }
  return hash.digest('hex');
}
