import type { BookContent } from '../contract.ts';
import type { DraftChange } from './contract.ts';

export type AppliedChange =
  | { outcome: 'applied'; content: BookContent }
  | { outcome: 'refused'; pointer: string; message: string };

/**
 * The content with a change applied; not yet checked as a whole.
 * Refused when it removes an entry that is not there, or puts one twice.
 */
export function applyChange(content: BookContent, change: DraftChange): AppliedChange {
  const { note: _, tasks, parts, ...sections } = change;
  const given = Object.fromEntries(
    Object.entries(sections).filter(([, section]) => section !== undefined),
  );
  const newTasks = changeEntries(content.tasks, tasks);
  if (newTasks.outcome === 'refused') return { ...newTasks, pointer: `/tasks${newTasks.pointer}` };
  const newParts = changeEntries(content.parts, parts);
  if (newParts.outcome === 'refused') return { ...newParts, pointer: `/parts${newParts.pointer}` };
  return {
    outcome: 'applied',
    content: { ...content, ...given, tasks: newTasks.entries, parts: newParts.entries },
  };
}

type Changed<Entry> =
  | { outcome: 'changed'; entries: Entry[] }
  | { outcome: 'refused'; pointer: string; message: string };

function changeEntries<Entry extends { code: string }>(
  entries: Entry[],
  change: { put: Entry[]; remove: string[] } | undefined,
): Changed<Entry> {
  if (change === undefined) return { outcome: 'changed', entries };
  const byCode = new Map(entries.map((entry) => [entry.code, entry]));
  for (const [at, code] of change.remove.entries()) {
    if (!byCode.delete(code)) return refusedAt(`/remove/${at}`, 'The draft has no such entry.');
  }
  const put = new Set<string>();
  for (const [at, entry] of change.put.entries()) {
    if (put.has(entry.code)) return refusedAt(`/put/${at}`, 'This code is put twice.');
    put.add(entry.code);
    byCode.set(entry.code, entry);
  }
  return { outcome: 'changed', entries: [...byCode.values()] };
}

function refusedAt<Entry>(pointer: string, message: string): Changed<Entry> {
  return { outcome: 'refused', pointer, message };
}
