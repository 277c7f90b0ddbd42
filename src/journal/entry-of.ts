import { createHmac } from 'node:crypto';
import { canonicalJson } from '../platform/canonical-json.ts';
import type { JournalEvent, PersonalField, PlainField } from './events.ts';

/** Whoever did it and when. */
export interface Authorship {
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

/** The columns of an entry as they are stored. */
export interface JournalEntryRow {
  id: string;
  at: Date;
  actorKind: string;
  actorId: string | null;
  actorRole: string | null;
  requestId: string | null;
  event: JournalEvent;
  subjectKind: string;
  subjectId: string;
  /** Canonical JSON: one text for one change. */
  changes: string;
}

/** The entry of one change; personal values are in it only as salted hashes. */
export function entryOf<E extends JournalEvent>(
  by: Authorship,
  change: Change<E>,
): JournalEntryRow {
  return {
    id: by.newId(),
    at: by.now,
    actorKind: by.actor?.kind ?? 'system',
    actorId: by.actor?.id ?? null,
    actorRole: by.actor?.role ?? null,
    requestId: by.requestId ?? null,
    event: change.event,
    subjectKind: change.subject.kind,
    subjectId: change.subject.id,
    changes: canonicalJson(changesOf(change)),
  };
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
