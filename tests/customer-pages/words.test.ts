import { describe, expect, it } from 'vitest';
import { words } from '../../src/customer-pages/words.ts';

/** Every word with its path, sentences made of examples. */
function flat(value: unknown, path = ''): [string, string][] {
  if (typeof value === 'string') return [[path, value]];
  if (typeof value === 'function') {
    const example = { option: 'OPTION', total: 'TOTAL', quote: 'QUOTE', company: 'COMPANY' };
    const isOfAgreed = path.endsWith('consent') || path.endsWith('cancel.notice');
    const sentence: unknown = isOfAgreed ? value(example) : value('FIRST', 'SECOND');
    return [[path, String(sentence)]];
  }
  return Object.entries(value ?? {}).flatMap(([key, each]) => flat(each, `${path}.${key}`));
}

const english = new Map(flat(words.en));
const spanish = new Map(flat(words.es));
const same = new Set(['.declineName', '.no']);

describe('the words of the page in Spanish', () => {
  it('are there for all of the English ones', () => {
    const extra = [...spanish.keys()].filter((path) => !english.has(path));
    expect([...english.keys()].filter((path) => !spanish.has(path))).toEqual([]);
    // Only a Spanish page can have a text that was issued in the other language.
    expect(extra).toEqual(['.paperIsEnglish']);
  });

  it.each([...english].filter(([path]) => !same.has(path)))('are other words: %s', (path, text) => {
    if (/^\W*(FIRST|SECOND|Total)?\W*(FIRST|SECOND)?\W*$/.test(text)) return;
    expect(spanish.get(path)).not.toBe(text);
  });

  it.each([...english])('name the same figures as the English ones: %s', (path, text) => {
    const figures = (sentence = '') => sentence.match(/FIRST|SECOND|OPTION|TOTAL|QUOTE|COMPANY/g);
    expect(new Set(figures(spanish.get(path)))).toEqual(new Set(figures(text)));
  });
});
