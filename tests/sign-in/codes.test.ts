import fc from 'fast-check';
import { Secret, TOTP, URI } from 'otpauth';
import { describe, expect, it } from 'vitest';
import { base32 } from '../../src/sign-in/base32.ts';
import { codeOfStep, stepAt } from '../../src/sign-in/code-of-step.ts';
import { isPassword } from '../../src/sign-in/hash-password.ts';
import { newFactorKey } from '../../src/sign-in/load-factor-key.ts';
import { newRecoveryCodes } from '../../src/sign-in/new-recovery-codes.ts';
import { otpauthUri } from '../../src/sign-in/otpauth-uri.ts';
import { readCode } from '../../src/sign-in/read-code.ts';
import { openSecret, sealSecret } from '../../src/sign-in/seal-secret.ts';
import { stepOfCode } from '../../src/sign-in/step-of-code.ts';

const bytes = (text: string) => new TextEncoder().encode(text);
const at = (seconds: number) => new Date(seconds * 1_000);

/** The secret of both standards. */
const secret = bytes('12345678901234567890');

describe('a code', () => {
  it.each([
    [0, '755224'],
    [1, '287082'],
    [2, '359152'],
    [3, '969429'],
    [4, '338314'],
    [5, '254676'],
    [6, '287922'],
    [7, '162583'],
    [8, '399871'],
    [9, '520489'],
  ])('of count %i is %s (RFC 4226, appendix D)', (count, code) => {
    expect(codeOfStep(secret, count)).toBe(code);
  });

  // The RFC shows eight digits; of the same number we show the last six (RFC 4226, section 5.3).
  it.each([
    [59, 0x1, '94287082'],
    [1_111_111_109, 0x23523ec, '07081804'],
    [1_111_111_111, 0x23523ed, '14050471'],
    [1_234_567_890, 0x273ef07, '89005924'],
    [2_000_000_000, 0x3f940aa, '69279037'],
    [20_000_000_000, 0x27bc86aa, '65353130'],
  ])('%i seconds after 1970 is of step %i (RFC 6238, appendix B)', (seconds, step, code) => {
    expect(stepAt(at(seconds))).toBe(step);
    expect(codeOfStep(secret, step)).toBe(code.slice(2));
  });

  it('is the one that a library of others shows, for any secret and instant', () => {
    fc.assert(
      fc.property(
        fc.uint8Array({ minLength: 20, maxLength: 20 }),
        fc.integer({ min: 0, max: 4_102_444_800 }),
        (key, seconds) => {
          const app = new TOTP({ secret: Secret.fromBase32(base32(key)) });
          const shown = app.generate({ timestamp: seconds * 1_000 });
          expect(codeOfStep(key, stepAt(at(seconds)))).toBe(shown);
        },
      ),
    );
  });

  it.each([
    [-31, undefined],
    [-30, 99],
    [-1, 99],
    [0, 99],
    [29, 99],
    [59, 99],
    [60, undefined],
  ])('shown from 2970 to 2999 is taken %i seconds after that begins: %s', (seconds, step) => {
    expect(stepOfCode(secret, codeOfStep(secret, 99), at(99 * 30 + seconds))).toBe(step);
  });

  it('is not taken where it is another’s, or has a digit more or less', () => {
    const right = codeOfStep(secret, 99);
    expect(stepOfCode(bytes('09876543210987654321'), right, at(2_970))).toBeUndefined();
    expect(stepOfCode(secret, `${right}0`, at(2_970))).toBeUndefined();
    expect(stepOfCode(secret, right.slice(1), at(2_970))).toBeUndefined();
  });
});

describe('a secret in letters', () => {
  it.each([
    ['', ''],
    ['f', 'MY'],
    ['fo', 'MZXQ'],
    ['foo', 'MZXW6'],
    ['foob', 'MZXW6YQ'],
    ['fooba', 'MZXW6YTB'],
    ['foobar', 'MZXW6YTBOI'],
  ])('is of “%s” %s (RFC 4648, section 10, without padding)', (text, letters) => {
    expect(base32(bytes(text))).toBe(letters);
  });

  it('is taken over from our address by a library of others, whatever the names are', () => {
    const issuer = 'Sparrowgate Heating & Air: 24/7?';
    const account = 'odalys+owner@sparrowgate.example.com';
    const read = URI.parse(otpauthUri({ secret, issuer, account }));
    if (!(read instanceof TOTP)) throw new Error('not by time');
    expect(read).toMatchObject({ algorithm: 'SHA1', digits: 6, period: 30, label: account });
    expect(read.issuer).toBe('Sparrowgate Heating & Air  24/7?');
    expect(read.secret.base32).toBe(base32(secret));
  });
});

describe('a sealed secret', () => {
  const key = newFactorKey();

  it('opens with its key at its place', () => {
    const sealed = sealSecret(key, 'one', secret);
    expect(sealed).toHaveLength(48);
    expect(Buffer.from(sealed).includes(Buffer.from(secret))).toBe(false);
    expect(Buffer.from(openSecret(key, 'one', sealed) ?? [])).toEqual(Buffer.from(secret));
  });

  it('opens with no other key, at no other place, and not where a bit of it was changed', () => {
    const sealed = sealSecret(key, 'one', secret);
    expect(openSecret(newFactorKey(), 'one', sealed)).toBeUndefined();
    expect(openSecret(key, 'another', sealed)).toBeUndefined();
    for (const place of sealed.keys()) {
      const changed = sealed.map((byte, index) => (index === place ? byte ^ 1 : byte));
      expect(openSecret(key, 'one', changed), `byte ${place}`).toBeUndefined();
    }
  });

  it('is another each time', () => {
    expect(sealSecret(key, 'one', secret)).not.toEqual(sealSecret(key, 'one', secret));
  });
});

describe('a code as it is typed', () => {
  it.each([
    ['287082', '287082'],
    [' 287 082 ', '287082'],
    ['287-082', '287082'],
    ['２８７０８２', '287082'],
    ['28708O', '287080'],
  ])('“%s” is read as that of the app', (typed, digits) => {
    expect(readCode(typed)).toEqual({ kind: 'of_app', digits });
  });

  it.each(['4k7m2-p9xqr', '4K7M2P9XQR', ' 4k7m2 p9xqr '])('“%s” is a recovery code', (typed) => {
    expect(readCode(typed)).toEqual({ kind: 'recovery', place: 4, letters: '4k7m2p9xqr' });
  });

  it('has zeros and ones where somebody read letters', () => {
    expect(readCode('Ok7m2-p9xIl')).toEqual({ kind: 'recovery', place: 0, letters: '0k7m2p9x11' });
  });

  it.each(['', '12345', '1234567', 'k4k7m2p9xq', '4k7m2p9xq', '28708²!'])(
    '“%s” is neither',
    (typed) => {
      expect(readCode(typed)).toBeUndefined();
    },
  );
});

describe('recovery codes', () => {
  it('are ten, each found by its first digit, read as they are told and kept as slow hashes', async () => {
    const codes = await newRecoveryCodes();
    expect(codes.map(({ place }) => place)).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8, 9]);
    for (const { place, code, hash } of codes) {
      expect(code).toMatch(/^\d[0-9a-hjkmnp-tv-z]{4}-[0-9a-hjkmnp-tv-z]{5}$/);
      const read = readCode(code.toUpperCase());
      if (read?.kind !== 'recovery') throw new Error(`${code} is not read`);
      expect(read.place).toBe(place);
      expect(await isPassword(read.letters, hash)).toBe(true);
    }
    expect(new Set(codes.map(({ code }) => code.slice(1))).size).toBe(10);
  });
});
