import type { CheckedFile } from './check-company-file.ts';
import type { Layout } from './read-layout.ts';

/**
 * Makes sure that the file's rows are of this very schema: nothing of it may be left out, and
 * nothing may be missing afterwards.
 * @throws Error naming the first thing that does not fit
 */
export function requireFit({ head, tables }: CheckedFile, layout: Layout): void {
  requireSameSchema(head.migrations, layout.migrations);
  requireSameNames(
    'table',
    tables.map(({ table }) => table),
    layout.tables.map(({ name }) => name),
  );
  for (const { table, columns } of tables) {
    const there = layout.tables.find(({ name }) => name === table);
    requireSameNames(
      `column of ${table}`,
      columns.map(({ name, type }) => `${name} (${type})`),
      (there?.columns ?? []).map(({ name, type }) => `${name} (${type})`),
    );
  }
  requireSameNames('sequence', Object.keys(head.nextNumbers), layout.sequences);
}

function requireSameSchema(inFile: readonly string[], inDatabase: readonly string[]): void {
  if (inFile.join() === inDatabase.join()) return;
  throw new Error(
    `The file is of schema ${inFile.at(-1)}, the database of ${inDatabase.at(-1)}. Restore it ` +
      'with the release that wrote it; a newer release then brings the schema up to date.',
  );
}

function requireSameNames(
  what: string,
  inFile: readonly string[],
  inDatabase: readonly string[],
): void {
  const unknown = inFile.find((name) => !inDatabase.includes(name));
  if (unknown !== undefined) throw new Error(`The database has no ${what} ${unknown}.`);
  const missing = inDatabase.find((name) => !inFile.includes(name));
  if (missing !== undefined) throw new Error(`The file has no ${what} ${missing}.`);
}
