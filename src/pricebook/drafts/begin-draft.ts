import type { z } from 'zod';
import { appendJournal } from '../../journal/index.ts';
import { canonicalJson } from '../../platform/canonical-json.ts';
import { sqlOf } from '../../platform/database/database.ts';
import { unknownReference } from '../../platform/http/problem.ts';
import type { ActContext } from '../../platform/http/route.ts';
import { sha256 } from '../../platform/sha256.ts';
import { bookInForce } from '../book-in-force.ts';
import type { BookContent } from '../contract.ts';
import type { BookName } from '../lock-newest-book.ts';
import type { newDraftSchema } from './contract.ts';
import type { DraftHead } from './draft-row.ts';
import { storedContent } from './stored-content.ts';

/**
 * Begins a draft of the next price book, from another book or from a whole content.
 * @throws ProblemError 409 without a price book in force to begin from, 422 for an unknown one
 */
export async function beginDraft(
  act: ActContext,
  { note, from, content }: z.output<typeof newDraftSchema>,
): Promise<DraftHead> {
  const basedOn = content === undefined ? await baseOf(act, from) : null;
  const book = content ?? (await contentOf(act, basedOn));
  const draft: DraftHead = {
    id: act.newId(),
    note,
    state: 'open',
    basedOn,
    publishedVersionId: null,
    version: 1,
    createdAt: act.now,
    updatedAt: act.now,
  };
  await sqlOf(act.tx).query(INSERT, [
    draft.id,
    note,
    JSON.stringify(book),
    basedOn?.id ?? null,
    act.now,
    act.actor.id,
  ]);
  await appendJournal(act, {
    event: 'price_book_draft.begun',
    subject: { kind: 'price_book_draft', id: draft.id },
    after: { from: from ?? null, contentSha256: sha256(canonicalJson(book)) },
  });
  return draft;
}

async function baseOf(act: ActContext, from: string | undefined): Promise<BookName> {
  if (from === undefined || from === 'in_force') {
    const { id, number } = await bookInForce(act.tx, act.now);
    return { id, number };
  }
  const base = await act.tx.priceBookVersion.findUnique({
    where: { id: from },
    select: { id: true, number: true },
  });
  if (base === null) throw unknownReference('/from', 'There is no such price book.');
  return base;
}

async function contentOf(act: ActContext, base: BookName | null): Promise<BookContent> {
  const content = base === null ? undefined : await storedContent(sqlOf(act.tx), base.id);
  if (content === undefined) throw new Error('a published price book has a content');
  return content;
}

const INSERT = `
  INSERT INTO price_book_draft (id, note, content, based_on_version_id, created_at, created_by_id,
    updated_at)
  VALUES ($1, $2, $3, $4, $5, $6, $5)`;
