import { readFile } from 'node:fs/promises';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { applyMutation } from './mutate-source.ts';
import { mutations } from './mutations.ts';

const root = path.resolve(import.meta.dirname, '../..');

/*
 * The mistakes themselves are made by `npm run mutate`, which takes minutes. Here the list is kept
 * true: a mistake that can no longer be made, or whose test is gone, would silently prove nothing.
 */
describe('every deliberate mistake can still be made, and its test is still there', () => {
  it.each(mutations.map((mutation) => [mutation.breaks, mutation] as const))(
    '%s',
    async (_, mutation) => {
      const source = await read(mutation.file);
      expect(applyMutation(source, mutation)).not.toBe(source);
      expect(await read(mutation.caughtBy.file)).toContain(mutation.caughtBy.name);
    },
  );

  it('no two say the same', () => {
    const words = mutations.map(({ breaks }) => breaks);
    expect(new Set(words).size).toBe(words.length);
  });
});

function read(file: string): Promise<string> {
  return readFile(path.join(root, file), 'utf8');
}
