import { describe, expect, it } from 'vitest';
import { text } from '../../../src/platform/http/formats.ts';

const name = text(60);

describe('text that people typed', () => {
  it.each([
    ['Attic, ladder on the left'],
    ['José Núñez'],
    ['李明'],
    ['نمی‌خواهم'],
    ['👩‍🔧 two\nlines'],
  ])('%s is text', (value) => {
    expect(name.parse(value)).toBe(value);
  });

  it.each([
    ['turns the reading direction around', 'Fee \u202e00.98$'],
    ['isolates a direction', 'Fee \u2066x\u2069'],
    ['takes no room', 'Fern\u200bHouse'],
    ['begins like a file', 'Fern\ufeffHouse'],
    ['cannot be stored', 'Fern\u0000House'],
    ['is half a character', 'Fern\ud800House'],
  ])('what %s is refused', (_, value) => {
    expect(name.safeParse(value).success).toBe(false);
  });
});
