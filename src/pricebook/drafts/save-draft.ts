import { appendJournal } from '../../journal/index.ts';
import { canonicalJson } from '../../platform/canonical-json.ts';
import { sqlOf } from '../../platform/database/database.ts';
import type { ActContext } from '../../platform/http/route.ts';
import { sha256 } from '../../platform/sha256.ts';
import type { BookContent } from '../contract.ts';
import type { Draft } from './draft-row.ts';

/** Stores a changed draft as its next version, with its entry in the journal. */
export async function saveDraft(
  act: ActContext,
  draft: Draft,
  { note, content, changed }: { note: string; content: BookContent; changed: string[] },
): Promise<Draft> {
  const version = draft.version + 1;
  const text = JSON.stringify(content);
  await sqlOf(act.tx).query(UPDATE, [draft.id, note, text, version, act.now]);
  await appendJournal(act, {
    event: 'price_book_draft.changed',
    subject: { kind: 'price_book_draft', id: draft.id },
    after: { changed, contentSha256: sha256(canonicalJson(content)) },
  });
  return { ...draft, note, content, version, updatedAt: act.now };
}

const UPDATE = `
  UPDATE price_book_draft SET note = $2, content = $3, version = $4, updated_at = $5
  WHERE id = $1`;
