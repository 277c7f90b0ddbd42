import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { differingWords } from '../../src/proof/differing-words.ts';

function differ(says: string, signed: string) {
  return differingWords(says.split(' ').filter(Boolean), signed.split(' ').filter(Boolean));
}

describe('where two texts part', () => {
  it.each<[string, string, string, { says: string; signed: string }[]]>([
    [
      'an amount',
      'Total $1,850.00 due',
      'Total $185.00 due',
      [{ says: '$1,850.00', signed: '$185.00' }],
    ],
    [
      'two amounts',
      'a $2 b c $9',
      'a $1 b c $8',
      [
        { says: '$2', signed: '$1' },
        { says: '$9', signed: '$8' },
      ],
    ],
    ['words put in', 'We owe you nothing', 'We owe nothing', [{ says: 'you', signed: '' }]],
    ['words left out', 'Total', 'Total $185.00', [{ says: '', signed: '$185.00' }]],
    ['everything', 'a b', 'c d', [{ says: 'a b', signed: 'c d' }]],
    ['nothing', 'a b c', 'a b c', []],
    ['nothing but where words were cut', 'a $1, 850.00 b', 'a $1,850.00 b', []],
  ])('is told: %s', (_, says, signed, partings) => {
    expect(differ(says, signed)).toEqual(partings);
  });

  it('a long parting still names its amounts', () => {
    const [parting] = differ(`${'word '.repeat(60)}$1,850.00`, '');
    expect(parting?.says).toMatch(/^word word .{100,140}… \$1,850\.00…$/);
  });

  it('is nowhere in equal texts, and somewhere in all others', () => {
    const text = fc.array(fc.constantFrom('a', 'b', 'c', '$1.00', '$2.00'), { maxLength: 12 });
    fc.assert(
      fc.property(text, text, (says, signed) => {
        const isSame = says.join('') === signed.join('');
        expect(differingWords(says, signed).length === 0).toBe(isSame);
      }),
    );
  });

  it('is told even of texts too long to be compared word by word', () => {
    const long = Array.from({ length: 3_000 }, (_, index) => `w${index}`);
    expect(differingWords(['x', ...long], [...long, 'y'])).toHaveLength(1);
  });
});
