import { describe, expect, it } from 'vitest';
import { quotable } from '../../src/proof/quotable.ts';

describe('a text of a stranger as it is quoted', () => {
  it.each([
    ['clears no screen', 'a\u001b[2J\u001b[HGenuine', 'a [2J [HGenuine'],
    ['ends no quotation', 'a” says “b', "a' says 'b"],
    ['turns no letters around', 'a\u202Eb', 'a b'],
    ['is one line', 'a\nb\u2028c', 'a b c'],
  ])('%s', (_, text, quoted) => {
    expect(quotable(text)).toBe(quoted);
  });

  it('is cut to a line or two, and of megabytes only the beginning is looked at', () => {
    expect([...quotable('x'.repeat(5_000_000))]).toHaveLength(161);
    // Were all of it looked at, the letter at its end would be told.
    expect(quotable(`${'\u200b'.repeat(5_000_000)}x`)).toBe('');
  });
});
