import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { draftText } from '../../src/quote-links/draft-text.ts';
import { gsmLength } from '../../src/quote-links/gsm-letters.ts';

const url = `https://company.example/q/${'A1_-'.repeat(10)}abc`;
const facts = { companyName: 'Sparrowgate Home Comfort', quoteNumber: '10042', url };

describe('the short text beside a link', () => {
  test.each([
    ['en', `Sparrowgate Home Comfort: your repair quote 10042. Look and answer: ${url}`],
    ['es', `Sparrowgate Home Comfort: su presupuesto 10042. Vea y responda: ${url}`],
  ] as const)('says who, what and where (%s)', (language, text) => {
    expect(draftText({ ...facts, language })).toBe(text);
  });

  // 3GPP TS 23.038, 6.2.1: á, í, ó and ú are not in the default alphabet; é, ñ and Ñ are.
  test('takes off the accents that short messages lack, and only those', () => {
    const companyName = 'Ñandú Climatización Jiménez';
    expect(draftText({ ...facts, companyName, language: 'es' })).toMatch(
      /^Ñandu Climatizacion Jiménez: /,
    );
  });

  test('fits one message whatever the company is called, and the address is whole', () => {
    fc.assert(
      fc.property(
        fc.string({
          unit: fc.constantFrom(...'abcXYZ áñéíóúÜ€[]&-'),
          minLength: 1,
          maxLength: 200,
        }),
        fc.constantFrom('en' as const, 'es' as const),
        (companyName, language) => {
          const text = draftText({ ...facts, companyName, language });
          expect(gsmLength(text)).toBeLessThanOrEqual(160);
          expect(text.endsWith(` ${url}`)).toBe(true);
        },
      ),
    );
  });
});
