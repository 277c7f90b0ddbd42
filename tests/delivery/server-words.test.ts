import { describe, expect, test } from 'vitest';
import { serverWords } from '../../src/delivery/server-words.ts';

describe('what a server said is kept without the address it was about', () => {
  // A domain as it goes over the line (RFC 5891); its letters are those of RFC 3492, from memory.
  test.each([
    ['as we spell it', 'ann@home.example', '550 <ann@home.example>: no such user'],
    ['in other letters', 'ann@home.example', '550 <ANN@Home.Example>: no such user'],
    [
      'with its domain in ASCII',
      'ann@bücher.example',
      '550 <ann@xn--bcher-kva.example>: no such user',
    ],
    [
      'that one in other letters',
      'ann@BÜCHER.example',
      '550 <Ann@XN--Bcher-KVA.example>: no such user',
    ],
    [
      'with its domain in our letters',
      'ann@xn--bcher-kva.example',
      '550 <ann@bücher.example>: no such user',
    ],
    ['a number', '555-0111', '550 <555-0111>: no such user'],
    [
      'with what a pattern would read',
      'a+b(c@home.example',
      '550 <a+b(c@home.example>: no such user',
    ],
    ['with no domain behind the sign', 'ann@', '550 <ann@>: no such user'],
  ])('%s', (_, address, said) => {
    expect(serverWords(said, address)).toBe('550 <[the address]>: no such user');
  });

  test('however often it stands there', () => {
    const said = '550 ann@bücher.example (ann@xn--bcher-kva.example) is not here';
    expect(serverWords(said, 'ann@bücher.example')).toBe(
      '550 [the address] ([the address]) is not here',
    );
  });
});

describe('a phone number is left out however it is spelled', () => {
  test.each([
    ['555-0111', '422 no mobile: [the address]', '422 no mobile: 555-0111'],
    ['555-0111', '422 no mobile: [the address]', '422 no mobile: 5550111'],
    ['555-0111', '422 no mobile: [the address].', '422 no mobile: +1 555 0111.'],
    ['555-0111', '422 no mobile: [the address].', '422 no mobile: +15550111.'],
    ['555-0111', '422 no mobile: [the address].', '422 no mobile: 1-555-0111.'],
    ['555-0111', '422 no mobile: [the address].', '422 no mobile: 0015550111.'],
    ['555-0111', '422 {"to":"[the address]"}', '422 {"to":"+1 (555) 0111"}'],
    ['555-0111', '422 [the address] is no mobile', '422 555.0111 is no mobile'],
    ['555-0111', '422 [the address], [the address]', '422 555-0111, 5 5 5 - 0 1 1 1'],
    ['(555) 010-0111', '400 [the address] is bad', '400 +1-555-010-0111 is bad'],
    ['+1 555 0111', '400 [the address] is bad', '400 555-0111 is bad'],
    ['+1 555 0111', '400 [the address] is bad', '400 +1 (555) 0111 is bad'],
    ['+1 555 010 0111', '400 [the address] is bad', '400 +1 555-010-0111 is bad'],
    ['030 5550111', '400 [the address] is bad', '400 +49 30 5550111 is bad'],
    // What is no number of theirs stays.
    ['555-0111', '400 555-0112 is bad', '400 555-0112 is bad'],
    ['555-0111', '503 retry in 555 s, request 0111', '503 retry in 555 s, request 0111'],
    ['112', '422 no 1 1 2 here, nor [the address]', '422 no 1 1 2 here, nor 112'],
  ])('%s: %s', (number, kept, said) => {
    expect(serverWords(said, number)).toBe(kept);
  });
});

test('and with every other word as it was', () => {
  expect(serverWords('550 5.1.1 bob@home.example is not here', 'ann@home.example')).toBe(
    '550 5.1.1 bob@home.example is not here',
  );
});
