import { plainWords } from '../../platform/plain-words.ts';
import { type BookContent, bookContentSchema } from '../contract.ts';

/** What is wrong with a book as a whole, and in which of its sections. */
export interface ContentMistake {
  section: string;
  message: string;
}

export type ContentCheck =
  | { outcome: 'fits'; content: BookContent }
  | { outcome: 'refused'; mistakes: ContentMistake[] };

/** Whether sections that are right by themselves make a price book together. */
export function checkContent(content: BookContent): ContentCheck {
  const parsed = bookContentSchema.safeParse(content, { error: plainWords });
  if (parsed.success) return { outcome: 'fits', content: parsed.data };
  const mistakes = parsed.error.issues.map(({ path, message }) => ({
    section: String(path[0] ?? ''),
    message: [...codeAt(content, path), message].join(': '),
  }));
  return { outcome: 'refused', mistakes };
}

/** The code of the entry that is wrong: its place in the whole list means nothing to anybody. */
function codeAt(content: BookContent, [section, at]: readonly PropertyKey[]): string[] {
  if (section !== 'tasks' && section !== 'parts') return [];
  const entry = content[section][Number(at)];
  return entry === undefined ? [] : [entry.code];
}
