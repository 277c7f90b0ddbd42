import type { z } from 'zod';
import { allowedActions } from '../../lifecycles/index.ts';
import { type Sql, sqlOf } from '../../platform/database/database.ts';
import { versionTag } from '../../platform/http/etag.ts';
import { notFound } from '../../platform/http/problem.ts';
import type { ActContext } from '../../platform/http/route.ts';
import { type BookContent, bookContentSchema } from '../contract.ts';
import type { draftHeadSchema } from './contract.ts';
import { type DraftState, draftLifecycle } from './draft-lifecycle.ts';

/** A draft without its content. */
export interface DraftHead {
  id: string;
  note: string;
  state: DraftState;
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
  const { id, note, state, publishedVersionId, version, createdAt, updatedAt } = draft;
  return {
    id,
    note,
    state,
    allowedActions: allowedActions(draftLifecycle, state),
    publishedPriceBookId: publishedVersionId,
    version,
    createdAt: createdAt.toISOString(),
    updatedAt: updatedAt.toISOString(),
  };
}

const LOCK = 'SELECT 1 FROM price_book_draft WHERE id = $1 FOR NO KEY UPDATE';

const READ = `
  SELECT id, note, state, published_version_id AS "publishedVersionId", version,
    created_at AS "createdAt", updated_at AS "updatedAt", content
  FROM price_book_draft WHERE id = $1`;
