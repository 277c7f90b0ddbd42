import { z } from 'zod';
import { text } from '../platform/http/formats.ts';
import {
  cutPage,
  inEitherOrder,
  orderQuery,
  pageOf,
  pageQuery,
  startAfter,
} from '../platform/http/page.ts';
import { type Route, read } from '../platform/http/route.ts';
import { journalEntrySchema, journalTipSchema } from './contract.ts';
import { journalTip } from './journal-tip.ts';

/** The journal as the owner reads it. */
export const journalRoutes: readonly Route[] = [
  read({
    operationId: 'listJournal',
    summary: 'What was changed, by whom and when',
    tag: 'journal',
    path: '/v1/journal',
    access: ['owner'],
    query: z.strictObject({ ...pageQuery, ...orderQuery, subjectId: text(60).optional() }),
    response: pageOf(journalEntrySchema),
    problems: ['cursor-invalid'],
    handle: async ({ sql }, { query }) => {
      const filter = { list: 'journal', subjectId: query.subjectId, order: query.order };
      const after = startAfter(query.cursor, filter);
      const found = await sql.query<JournalRow>(LIST[query.order], [
        after ?? null,
        query.subjectId ?? null,
        query.limit + 1,
      ]);
      return { body: cutPage(found.rows.map(toEntry), query.limit, filter) };
    },
  }),
  read({
    operationId: 'getJournalTip',
    summary: 'The end of the sealed journal, to be kept outside',
    tag: 'journal',
    path: '/v1/journal/tip',
    access: ['owner'],
    response: journalTipSchema,
    handle: async ({ sql }) => ({ body: await journalTip(sql) }),
  }),
];

interface JournalRow extends Omit<z.input<typeof journalEntrySchema>, 'at' | 'changes'> {
  at: Date;
  changes: string;
}

function toEntry(row: JournalRow): z.input<typeof journalEntrySchema> {
  return {
    ...row,
    at: row.at.toISOString(),
    changes: JSON.parse(row.changes) as Record<string, unknown>,
  };
}

const LIST = inEitherOrder(
  (beyond, sort) => `
  SELECT e.id, e.at, e.actor_kind AS "actorKind", e.actor_id AS "actorId",
    e.actor_role AS "actorRole", e.request_id AS "requestId", e.event,
    e.subject_kind AS "subjectKind", e.subject_id AS "subjectId", e.changes,
    s.position::float8 AS position, s.hash
  FROM journal_entry e LEFT JOIN journal_seal s ON s.entry_id = e.id
  WHERE ($1::uuid IS NULL OR e.id ${beyond} $1) AND ($2::text IS NULL OR e.subject_id = $2)
  ORDER BY e.id ${sort} LIMIT $3`,
);
