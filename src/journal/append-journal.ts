import { sqlOf, type Tx } from '../platform/database/database.ts';
import { type Authorship, type Change, entryOf } from './entry-of.ts';
import type { JournalEvent } from './events.ts';

/** Whoever did it and when, in its transaction: what a route's act context has. */
export interface Doer extends Authorship {
  tx: Tx;
}

/**
 * Writes the entry of one change, in the change's own transaction: neither exists without the
 * other. Sealing comes later, by one sealer, so that business never waits for the chain.
 */
export async function appendJournal<E extends JournalEvent>(
  doer: Doer,
  change: Change<E>,
): Promise<void> {
  const entry = entryOf(doer, change);
  await sqlOf(doer.tx).query(INSERT, [
    entry.id,
    entry.at,
    entry.actorKind,
    entry.actorId,
    entry.actorRole,
    entry.requestId,
    entry.event,
    entry.subjectKind,
    entry.subjectId,
    entry.changes,
  ]);
}

const INSERT = `
  INSERT INTO journal_entry
    (id, at, actor_kind, actor_id, actor_role, request_id, event, subject_kind, subject_id, changes)
  VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10)`;
