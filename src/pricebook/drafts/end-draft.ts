import type { z } from 'zod';
import { companyOf, localDay } from '../../company/index.ts';
import { appendJournal } from '../../journal/index.ts';
import { priceBookDraftLifecycle } from '../../lifecycles/index.ts';
import { sqlOf } from '../../platform/database/database.ts';
import { moveOrRefuse } from '../../platform/http/move-or-refuse.ts';
import { ProblemError, wrongField } from '../../platform/http/problem.ts';
import type { ActContext } from '../../platform/http/route.ts';
import { type BookName, lockNewestBook } from '../lock-newest-book.ts';
import { publishBook } from '../publish-book.ts';
import type { draftPublicationSchema } from './contract.ts';
import { type DraftHead, lockDraft } from './draft-row.ts';

/**
 * Publishes a draft as the next version of the price book; the draft stays as it was.
 * @throws ProblemError 404, 412 when somebody else changed it first, 409 when it is not open any
 *   more, or another book than the one it began as is the newest and is not named; 400 when the
 *   book could never take force, or would from a day that is over
 */
export async function publishDraft(
  act: ActContext,
  id: string,
  { effectiveFrom, overBookNumber }: z.output<typeof draftPublicationSchema>,
): Promise<DraftHead> {
  const draft = await lockDraft(act, id);
  const state = moveOrRefuse('draft', priceBookDraftLifecycle, draft.state, 'publish');
  const newest = await lockNewestBook(act);
  refuseOutdated(draft, newest, overBookNumber);
  if (newest !== undefined) await refusePast(act, effectiveFrom);
  const priceBookId = await publishBook(act, draft.content, effectiveFrom);
  await appendJournal(act, {
    event: 'price_book_draft.published',
    subject: { kind: 'price_book_draft', id },
    after: { priceBookId, ...(overBookNumber !== undefined && { overBookNumber }) },
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
  const state = moveOrRefuse('draft', priceBookDraftLifecycle, draft.state, 'drop');
  await appendJournal(act, {
    event: 'price_book_draft.dropped',
    subject: { kind: 'price_book_draft', id },
    after: { state },
  });
  return endAs(act, { ...draft, state });
}

/** What was quoted on days that are over was quoted by the book of those days. */
async function refusePast({ tx, now }: ActContext, effectiveFrom: string): Promise<void> {
  const { timeZone } = await companyOf(tx);
  if (localDay(new Date(effectiveFrom), timeZone) >= localDay(now, timeZone)) return;
  throw wrongField('/effectiveFrom', 'day_over', 'is over: a book is published from today on');
}

// The lock on publishing is held since the newest book was looked for: of two drafts of one book,
// published at once, the second is told of the first.
function refuseOutdated(
  { basedOn }: DraftHead,
  newest: BookName | undefined,
  overBookNumber: number | undefined,
): void {
  if (newest === undefined) return;
  const isKnown =
    overBookNumber === undefined ? newest.id === basedOn?.id : newest.number === overBookNumber;
  if (isKnown) return;
  const began = basedOn === null ? 'from nothing' : `as price book ${basedOn.number}`;
  throw new ProblemError(
    'draft-outdated',
    `This draft began ${began}, but the newest is price book ${newest.number}: what changed there is not in the draft.`,
    { basedOnNumber: basedOn?.number ?? null, newestNumber: newest.number },
  );
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
