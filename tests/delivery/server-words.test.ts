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

test('and with every other word as it was', () => {
  expect(serverWords('550 5.1.1 bob@home.example is not here', 'ann@home.example')).toBe(
    '550 5.1.1 bob@home.example is not here',
  );
});
