import { appendJournal } from '../../journal/index.ts';
import { sqlOf } from '../../platform/database/database.ts';
import { moveOrRefuse } from '../../platform/http/move-or-refuse.ts';
import type { ActContext } from '../../platform/http/route.ts';
import { publishBook } from '../publish-book.ts';
import { draftLifecycle } from './draft-lifecycle.ts';
import { type DraftHead, lockDraft } from './draft-row.ts';

/**
 * Publishes a draft as the next version of the price book; the draft stays as it was.
 * @throws ProblemError 404, 412 when somebody else changed it first, 409 when it is not open any
 *   more, 400 when the book could never take force
 */
export async function publishDraft(
  act: ActContext,
  id: string,
  effectiveFrom: string,
): Promise<DraftHead> {
  const draft = await lockDraft(act, id);
  const state = moveOrRefuse('draft', draftLifecycle, draft.state, 'publish');
  const priceBookId = await publishBook(act, draft.content, effectiveFrom);
  await appendJournal(act, {
    event: 'price_book_draft.published',
    subject: { kind: 'price_book_draft', id },
    after: { priceBookId },
  });
  return endAs(act, { ...draft, state, publishedVersionId: priceBookId });
}

/**
 * Drops a draft. It can still be read, and never be published.
 * @throws ProblemError 404, 412 when somebody else changed it first, 409 when it is not open any
 *   more
 */
export async function dropDraft(act: ActContext, id: string): Promise<DraftHead> {
  const draft = await lockDraft(act, id);
  const state = moveOrRefuse('draft', draftLifecycle, draft.state, 'drop');
  await appendJournal(act, {
    event: 'price_book_draft.dropped',
    subject: { kind: 'price_book_draft', id },
    after: { state },
  });
  return endAs(act, { ...draft, state });
}

async function endAs(act: ActContext, draft: DraftHead): Promise<DraftHead> {
  const version = draft.version + 1;
  const { id, state, publishedVersionId } = draft;
  await sqlOf(act.tx).query(END, [id, state, publishedVersionId, version, act.now]);
  return { ...draft, version, updatedAt: act.now };
}

const END = `
  UPDATE price_book_draft
  SET state = $2, published_version_id = $3, version = $4, updated_at = $5
  WHERE id = $1`;
