import { describe, expect, it } from 'vitest';
import { words } from '../../src/paper-pages/words.ts';

/** Every word with its path, sentences made of examples. */
function flat(value: unknown, path = ''): [string, string][] {
  if (typeof value === 'string') return [[path, value]];
  if (typeof value === 'function') {
    const first = path.endsWith('.title') || path.endsWith('.wait') ? 2 : 'FIRST';
    const said: unknown = value(first, 'SECOND', 'THIRD');
    return [[path, String(said)]];
  }
  return Object.entries(value ?? {}).flatMap(([key, each]) => flat(each, `${path}.${key}`));
}

const english = new Map(flat(words.en));
const spanish = new Map(flat(words.es));

describe('the words of these pages in Spanish', () => {
  it('are there for all of the English ones, and for no others', () => {
    expect([...spanish.keys()]).toEqual([...english.keys()]);
  });

  it.each([...english])('are other words: %s', (path, text) => {
    expect(spanish.get(path)).not.toBe(text);
  });

  it.each([...english])('name the same figures as the English ones: %s', (path, text) => {
    const figures = (sentence = '') => sentence.match(/FIRST|SECOND|THIRD|\b2\b|SHA-256|10 MB/g);
    expect(new Set(figures(spanish.get(path)))).toEqual(new Set(figures(text)));
  });
});
