import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { canonicalJson } from '../../src/platform/canonical-json.ts';

describe('one value has one text', () => {
  // RFC 8785, section 3.2.2 with its result in 3.2.3; written down from memory of the RFC.
  it('writes the example of RFC 8785 as the RFC does', () => {
    const example: unknown = JSON.parse(String.raw`{
      "numbers": [333333333.33333329, 1E30, 4.50, 2e-3, 0.000000000000000000000000001],
      "string": "\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"\/",
      "literals": [null, true, false]
    }`);
    expect(canonicalJson(example)).toBe(
      '{"literals":[null,true,false],' +
        '"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],' +
        String.raw`"string":"€$\u000f\nA'B\"\\\\\"/"}`,
    );
  });

  // RFC 8785, section 3.2.3: sorted by UTF-16 code units, so the emoji (a surrogate pair from
  // U+D83D) stands before the Hebrew letter U+FB33. From memory of the RFC.
  it('sorts the keys of the sorting example of RFC 8785 as the RFC does', () => {
    const example = {
      '\u20ac': 'Euro Sign',
      '\r': 'Carriage Return',
      '\ufb33': 'Hebrew Letter Dalet With Dagesh',
      '1': 'One',
      '\ud83d\ude00': 'Emoji: Grinning Face',
      '\u0080': 'Control',
      '\u00f6': 'Latin Small Letter O With Diaeresis',
    };
    expect(Object.values(JSON.parse(canonicalJson(example)) as object)).toHaveLength(7);
    const order = [...canonicalJson(example).matchAll(/:"([^"]+)"/g)].map(([, value]) => value);
    expect(order).toEqual([
      'Carriage Return',
      'One',
      'Control',
      'Latin Small Letter O With Diaeresis',
      'Euro Sign',
      'Emoji: Grinning Face',
      'Hebrew Letter Dalet With Dagesh',
    ]);
  });

  // IEEE 754 samples of RFC 8785, appendix B, from memory of the RFC.
  it.each([
    [0, '0'],
    [-0, '0'],
    [Number.MIN_VALUE, '5e-324'],
    [-Number.MIN_VALUE, '-5e-324'],
    [Number.MAX_VALUE, '1.7976931348623157e+308'],
    [9007199254740992, '9007199254740992'],
    [295147905179352830000, '295147905179352830000'],
    [1e23, '1e+23'],
    [0.000001, '0.000001'],
    [9.999999999999997e-7, '9.999999999999997e-7'],
  ])('writes the number %d as %s', (number, text) => {
    expect(canonicalJson(number)).toBe(text);
  });

  it('is the same whatever order the keys were written in', () => {
    fc.assert(
      fc.property(fc.dictionary(fc.string(), fc.jsonValue()), (value) => {
        const reversed = Object.fromEntries(Object.entries(value).reverse());
        expect(canonicalJson(reversed)).toBe(canonicalJson(value));
      }),
    );
  });

  it('keeps the value whole', () => {
    fc.assert(
      fc.property(fc.jsonValue(), (value) => {
        expect(JSON.parse(canonicalJson(value))).toEqual(JSON.parse(JSON.stringify(value)));
      }),
    );
  });

  it('escapes a lone surrogate, which no text encoding could carry', () => {
    expect(canonicalJson('\ud800')).toBe('"\\ud800"');
  });

  it('leaves out what is undefined, so that absent and undefined are the same', () => {
    expect(canonicalJson({ b: undefined, a: 1 })).toBe('{"a":1}');
  });

  it.each([
    ['NaN', Number.NaN],
    ['infinity', Number.POSITIVE_INFINITY],
    ['undefined', undefined],
    ['a function', () => 1],
    ['a big integer', 1n],
    ['an undefined in a list', [undefined]],
  ])('refuses %s, for which JSON has no word', (_, value) => {
    expect(() => canonicalJson(value)).toThrow(TypeError);
  });
});
