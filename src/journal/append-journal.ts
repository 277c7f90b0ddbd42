import { createHmac } from 'node:crypto';
import { canonicalJson } from '../platform/canonical-json.ts';
import { sqlOf, type Tx } from '../platform/database/database.ts';
import type { JournalEvent, PersonalField, PlainField } from './events.ts';

/** Whoever did it and when: what a route's act context has. */
export interface Doer {
  tx: Tx;
  now: Date;
  newId(): string;
  requestId?: string;
  /** Undefined for what the program does by itself. */
  actor?: { kind: 'staff' | 'customer'; id: string; role?: string };
}

/** One change, as the journal keeps it. */
export interface Change<E extends JournalEvent> {
  event: E;
  subject: { kind: string; id: string };
  before?: Partial<Record<PlainField<E>, unknown>>;
  after?: Partial<Record<PlainField<E>, unknown>>;
  /** Personal values with the salt of the person they belong to. */
  personal?: {
    salt: Uint8Array;
    before?: Partial<Record<PersonalField<E>, unknown>>;
    after?: Partial<Record<PersonalField<E>, unknown>>;
  };
}

/**
 * Writes the entry of one change, in the change's own transaction: neither exists without the
 * other. Sealing comes later, by one sealer, so that business never waits for the chain.
 */
export async function appendJournal<E extends JournalEvent>(
  doer: Doer,
  change: Change<E>,
): Promise<void> {
  await sqlOf(doer.tx).query(INSERT, [
    doer.newId(),
    doer.now,
    doer.actor?.kind ?? 'system',
    doer.actor?.id ?? null,
    doer.actor?.role ?? null,
    doer.requestId ?? null,
    change.event,
    change.subject.kind,
    change.subject.id,
    canonicalJson(changesOf(change)),
  ]);
}

function changesOf<E extends JournalEvent>({ before, after, personal }: Change<E>): object {
  return {
    ...(before && { before: jsonable(before) }),
    ...(after && { after: jsonable(after) }),
    ...(personal?.before && { personalBefore: hashed(personal.before, personal.salt) }),
    ...(personal?.after && { personalAfter: hashed(personal.after, personal.salt) }),
  };
}

// Instants become RFC 3339 text; what was not given is left out.
function jsonable(values: object): object {
  return JSON.parse(JSON.stringify(values)) as object;
}

function hashed(values: object, salt: Uint8Array): object {
  const given = Object.entries(values).filter(([, value]) => value !== undefined && value !== null);
  return Object.fromEntries(
    given.map(([field, value]) => [
      field,
      createHmac('sha256', salt)
        .update(`${field}\0${String(value)}`)
        .digest('hex'),
    ]),
  );
}

const INSERT = `
  INSERT INTO journal_entry
    (id, at, actor_kind, actor_id, actor_role, request_id, event, subject_kind, subject_id, changes)
  VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10)`;
