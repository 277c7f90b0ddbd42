import { z } from 'zod';
import type { FileMistakes } from '../../../platform/csv/mistakes.ts';
import type { BookContent } from '../../contract.ts';
import { agreementsFile } from './agreements-file.ts';
import { type ListFile, readList, writeList } from './list-file.ts';
import { partsFile } from './parts-file.ts';
import { periodsFile } from './periods-file.ts';
import { replacementsFile } from './replacements-file.ts';
import { tasksFile } from './tasks-file.ts';
import { tiersFile } from './tiers-file.ts';

/** The lists of a price book that can be had and replaced as a file. */
export const listNameSchema = z.enum([
  'tasks',
  'parts',
  'periods',
  'tiers',
  'agreements',
  'replacements',
]);
export type ListName = z.infer<typeof listNameSchema>;

interface BookList {
  write(content: BookContent): Uint8Array;
  /** The content with this list replaced by the file's; not yet checked as a whole. */
  read(
    content: BookContent,
    bytes: Uint8Array,
  ): { outcome: 'read'; content: BookContent } | ({ outcome: 'refused' } & FileMistakes);
}

export const bookLists: Readonly<Record<ListName, BookList>> = {
  tasks: bookList(tasksFile, {
    of: ({ tasks }) => tasks,
    put: (content, tasks) => ({ ...content, tasks }),
  }),
  parts: bookList(partsFile, {
    of: ({ parts }) => parts,
    put: (content, parts) => ({ ...content, parts }),
  }),
  periods: bookList(periodsFile, {
    of: ({ periods }) => periods,
    put: (content, periods) => ({ ...content, periods }),
  }),
  tiers: bookList(tiersFile, {
    of: ({ tiers }) => tiers.steps,
    put: (content, steps) => ({ ...content, tiers: { ...content.tiers, steps } }),
  }),
  agreements: bookList(agreementsFile, {
    of: ({ agreements }) => agreements,
    put: (content, agreements) => ({ ...content, agreements }),
  }),
  replacements: bookList(replacementsFile, {
    of: ({ replacements }) => replacements,
    put: (content, replacements) => ({ ...content, replacements }),
  }),
};

function bookList<Item>(
  file: ListFile<Item>,
  place: {
    of(content: BookContent): readonly Item[];
    put(content: BookContent, items: Item[]): BookContent;
  },
): BookList {
  return {
    write: (content) => writeList(file, place.of(content)),
    read: (content, bytes) => {
      const list = readList(file, bytes);
      if (list.outcome === 'refused') return list;
      return { outcome: 'read', content: place.put(content, list.items) };
    },
  };
}
