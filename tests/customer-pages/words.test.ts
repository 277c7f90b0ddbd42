import { describe, expect, it } from 'vitest';
import { words } from '../../src/customer-pages/words.ts';
import { quoteWords } from '../../src/documents/index.ts';

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

describe.each(['en', 'es'] as const)('in %s', (language) => {
  const own = words[language];

  it('a fingerprint has one name on the page, its receipt and the paper, so that they can be compared', () => {
    const name = own.receipt.fingerprint.toLowerCase();
    expect(own.fingerprint.toLowerCase()).toContain(name);
    expect(quoteWords[language].contentHash.toLowerCase()).toContain(name);
  });

  it('the sum that is agreed to, or taken back, is never read as one with the number of the revision', () => {
    const agreed = { option: 'OPTION', total: '$204.90', company: 'COMPANY' };
    const quote = own.quoteName('1001', 1);
    expect(own.consent({ ...agreed, quote })).toMatch(/1, (for|por) \$204\.90/);
    expect(own.cancel.notice({ ...agreed, quote })).toMatch(/1, (for|por) \$204\.90/);
  });
});
