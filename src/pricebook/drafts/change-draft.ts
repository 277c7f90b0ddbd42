import { priceBookDraftLifecycle } from '../../lifecycles/index.ts';
import { moveOrRefuse } from '../../platform/http/move-or-refuse.ts';
import { ProblemError, wrongField } from '../../platform/http/problem.ts';
import type { ActContext } from '../../platform/http/route.ts';
import { applyChange } from './apply-change.ts';
import { type ContentMistake, checkContent } from './check-content.ts';
import type { DraftChange } from './contract.ts';
import { type DraftHead, lockDraft } from './draft-row.ts';
import { saveDraft } from './save-draft.ts';

/**
 * Changes an open draft. What comes out is a price book again, or nothing is changed.
 * @throws ProblemError 404, 412 when somebody else changed it first, 409 when it is not open any
 *   more, 400 when its sections would not make a price book together
 */
export async function changeDraft(
  act: ActContext,
  id: string,
  change: DraftChange,
): Promise<DraftHead> {
  const draft = await lockDraft(act, id);
  moveOrRefuse('draft', priceBookDraftLifecycle, draft.state, 'change');
  const applied = applyChange(draft.content, change);
  if (applied.outcome === 'refused') {
    throw wrongField(applied.pointer, 'wrong_entry', applied.message);
  }
  const check = checkContent(applied.content);
  if (check.outcome === 'refused') throw notABook(check.mistakes);
  const changed = Object.entries(change).flatMap(([name, value]) => (value ? [name] : []));
  const note = change.note ?? draft.note;
  return saveDraft(act, draft, { note, content: check.content, changed });
}

function notABook(mistakes: readonly ContentMistake[]): ProblemError {
  return new ProblemError('validation-failed', 'This would not be a price book any more.', {
    errors: mistakes.map(({ section, message }) => ({
      in: 'body',
      pointer: `/${section}`,
      code: 'not_a_book',
      message,
    })),
  });
}
