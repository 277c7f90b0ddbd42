import { expect, it } from 'vitest';
import { hashOfToken, newToken } from '../../../src/platform/access/token.ts';

// OWASP ASVS 5.0, 7.2.3 and 11.5.1: 128 bits of chance at least.
it('a token has 256 bits in letters that an address can hold, and each is another', () => {
  const tokens = Array.from({ length: 1_000 }, newToken);
  for (const token of tokens) {
    expect(token).toMatch(/^[\w-]{43}$/);
    expect(Buffer.from(token, 'base64url')).toHaveLength(32);
  }
  expect(new Set(tokens).size).toBe(tokens.length);
});

it('every bit of a token is a matter of chance: each is set in some and not in others', () => {
  const tokens = Array.from({ length: 200 }, () => Buffer.from(newToken(), 'base64url'));
  for (let bit = 0; bit < 256; bit += 1) {
    const values = tokens.map((bytes) => ((bytes[bit >> 3] ?? 0) >> (bit & 7)) & 1);
    expect(new Set(values), `bit ${bit}`).toEqual(new Set([0, 1]));
  }
});

it('is stored as its SHA-256 (FIPS 180-4, the example of "abc")', () => {
  expect(Buffer.from(hashOfToken('abc')).toString('hex')).toBe(
    'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad',
  );
});
