import { priceBookDraftLifecycle } from '../../lifecycles/index.ts';
import type { FileMistakes } from '../../platform/csv/mistakes.ts';
import { moveOrRefuse } from '../../platform/http/move-or-refuse.ts';
import { ProblemError } from '../../platform/http/problem.ts';
import type { ActContext } from '../../platform/http/route.ts';
import { checkContent } from './check-content.ts';
import { type DraftHead, lockDraft } from './draft-row.ts';
import { bookLists, type ListName } from './lists/book-lists.ts';
import { saveDraft } from './save-draft.ts';

/**
 * Replaces one list of an open draft by a CSV file: all of it, or nothing and every mistake.
 * @throws ProblemError 404, 412 when somebody else changed it first, 409 when it is not open any
 *   more, 400 with the mistakes of the file by line and column
 */
export async function replaceList(
  act: ActContext,
  id: string,
  list: ListName,
  bytes: Uint8Array,
): Promise<DraftHead> {
  const draft = await lockDraft(act, id);
  moveOrRefuse('draft', priceBookDraftLifecycle, draft.state, 'change');
  const read = bookLists[list].read(draft.content, bytes);
  if (read.outcome === 'refused') throw fileHasMistakes(read);
  const check = checkContent(read.content);
  if (check.outcome === 'refused') {
    const mistakes = check.mistakes.map(({ section, message }) => ({
      line: 1,
      column: null,
      message: `With this file the draft would not be a price book: ${section}: ${message}.`,
    }));
    throw fileHasMistakes({ mistakes, more: 0 });
  }
  return saveDraft(act, draft, { note: draft.note, content: check.content, changed: [list] });
}

function fileHasMistakes({ mistakes, more }: FileMistakes): ProblemError {
  const detail = 'Nothing of this file was taken over.';
  return new ProblemError('file-has-mistakes', detail, { mistakes, more });
}
