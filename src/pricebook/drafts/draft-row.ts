import type { z } from 'zod';
import {
  allowedActions,
  type PriceBookDraftState,
  priceBookDraftLifecycle,
} from '../../lifecycles/index.ts';
import { type Sql, sqlOf } from '../../platform/database/database.ts';
import { versionTag } from '../../platform/http/etag.ts';
import { notFound } from '../../platform/http/problem.ts';
import type { ActContext } from '../../platform/http/route.ts';
import { type BookContent, bookContentSchema } from '../contract.ts';
import type { BookName } from '../lock-newest-book.ts';
import type { draftHeadSchema } from './contract.ts';

/** A draft without its content. */
export interface DraftHead {
  id: string;
  note: string;
  state: PriceBookDraftState;
  /** The book it began as; null for one written from nothing. */
  basedOn: BookName | null;
  publishedVersionId: string | null;
  version: number;
  createdAt: Date;
  updatedAt: Date;
}

export interface Draft extends DraftHead {
  content: BookContent;
}

/**
 * A draft with its content.
 * @throws ProblemError 404 when there is none
 */
export async function readDraft(sql: Sql, id: string): Promise<Draft> {
  const { rows } = await sql.query<DraftHead & { content: unknown }>(READ, [id]);
  const [row] = rows;
  if (row === undefined) throw notFound('draft');
  return { ...row, content: bookContentSchema.parse(row.content) };
}

/**
 * The same, locked until the transaction ends: two changes that arrive together wait for each
 * other, and the second then fails its If-Match.
 * @throws ProblemError 404 when there is none, 412 when the request means another version
 */
export async function lockDraft(act: ActContext, id: string): Promise<Draft> {
  const sql = sqlOf(act.tx);
  await sql.query(LOCK, [id]);
  const draft = await readDraft(sql, id);
  act.mustMatch(versionTag(draft.version));
  return draft;
}

export function headBody(draft: DraftHead): z.output<typeof draftHeadSchema> {
  const { id, note, state, basedOn, publishedVersionId, version, createdAt, updatedAt } = draft;
  return {
    id,
    note,
    state,
    allowedActions: allowedActions(priceBookDraftLifecycle, state),
    basedOn,
    publishedPriceBookId: publishedVersionId,
    version,
    createdAt: createdAt.toISOString(),
    updatedAt: updatedAt.toISOString(),
  };
}

const LOCK = 'SELECT 1 FROM price_book_draft WHERE id = $1 FOR NO KEY UPDATE';

const READ = `
  SELECT draft.id, note, state,
    CASE WHEN base.id IS NOT NULL THEN
      json_build_object('id', base.id, 'number', base.number) END AS "basedOn",
    published_version_id AS "publishedVersionId", version,
    created_at AS "createdAt", updated_at AS "updatedAt", content
  FROM price_book_draft draft LEFT JOIN price_book_version base ON base.id = based_on_version_id
  WHERE draft.id = $1`;
