import path from 'node:path';
import type { Plugin } from 'vite';
import type { Mutation } from './mutation.ts';

/** Makes one deliberate mistake while the source is loaded; no file on disk is touched. */
export function mutateSource(mutation: Mutation): Plugin {
  const mutated = path.resolve(import.meta.dirname, '../..', mutation.file);
  return {
    name: 'mutate-source',
    enforce: 'pre',
    transform(code, id) {
      return id === mutated ? applyMutation(code, mutation) : undefined;
    },
  };
}

/**
 * The source with the mistake in it.
 * @throws Error unless the text to be replaced stands exactly once in it
 */
export function applyMutation(code: string, { file, find, replace }: Mutation): string {
  const at = code.indexOf(find);
  if (at < 0) throw new Error(`${file} does not hold: ${find}`);
  if (code.indexOf(find, at + 1) >= 0) throw new Error(`${file} holds more than once: ${find}`);
  return code.slice(0, at) + replace + code.slice(at + find.length);
}
