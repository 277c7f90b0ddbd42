import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { renderPaper } from '../../src/documents/index.ts';
import { attachmentsOf } from '../../src/proof/pdf/attachments-of.ts';
import { pagesDigest } from '../../src/proof/pdf/pages-digest.ts';
import { StrictlyUnreadable, TooLargeUnpacked } from '../../src/proof/pdf/pdf-value.ts';
import { readStrictly } from '../../src/proof/pdf/read-strictly.ts';
import { ValueParser } from '../../src/proof/pdf/value-parser.ts';
import { pluggedDrain } from '../documents/sample-papers.ts';
import { sealQuote } from './sealed-papers.ts';
import { appendedTo, edited, locked, patched } from './tamper.ts';

let genuine: Uint8Array;

beforeAll(async () => {
  genuine = await renderPaper(await sealQuote(pluggedDrain));
});

describe('a file is read strictly only where no two readers can differ', () => {
  it.each<[string, () => Uint8Array, string]>([
    ['a later change appended', () => appendedTo(genuine, 'BT ET'), 'the file ends twice'],
    [
      'objects that no table lists',
      () => patched(genuine, '%PDF-1.7\n', '%PDF-1.7\n1 0 obj\n<<>>\nendobj\n'),
      'does not begin or end',
    ],
    ['a lock', () => locked(genuine, ''), 'the file has Encrypt'],
    [
      'a table that leads to an earlier one',
      () => patched(genuine, 'trailer\n<<\n', 'trailer\n<<\n/Prev 15\n'),
      'the file has Prev',
    ],
    [
      'an object that stands elsewhere than listed',
      () => patched(genuine, /(\d{9})\d( 00000 n \n)/, '$10$2'),
      'object',
    ],
    [
      'an object listed under a later version',
      () => patched(genuine, ' 00000 n ', ' 00001 n '),
      'an object was replaced',
    ],
    [
      'letters after its end',
      () => Buffer.concat([genuine, Buffer.from('x')]),
      'does not begin or end',
    ],
    [
      'letters before its beginning',
      () => Buffer.concat([Buffer.from(' '), genuine]),
      'does not begin or end',
    ],
    [
      'a comment that one reader sees and another does not',
      () => patched(genuine, 'endobj\n', 'endob%\n'),
      'missing',
    ],
    [
      'a key written twice',
      () => patched(genuine, '/MarkInfo', '/Metadata'),
      'the key Metadata stands twice',
    ],
    ['a stream of another length', () => patched(genuine, /\/Length (\d)/, '/Length 9'), 'length'],
  ])('and refuses %s', (_, make, words) => {
    expect(() => readStrictly(make())).toThrow(StrictlyUnreadable);
    expect(() => readStrictly(make())).toThrow(words);
  });

  it('and never does anything else with a damaged file than read or refuse it', () => {
    const places = fc.array(fc.tuple(fc.nat(genuine.length - 1), fc.nat(255)), { minLength: 1 });
    fc.assert(
      fc.property(places, (changes) => {
        const damaged = genuine.slice();
        for (const [at, byte] of changes) damaged[at] = byte;
        try {
          const pdf = readStrictly(damaged);
          pagesDigest(pdf);
          attachmentsOf(pdf);
        } catch (error) {
          expect([StrictlyUnreadable, TooLargeUnpacked]).toContain(
            error instanceof Error ? error.constructor : error,
          );
        }
      }),
    );
  });
});

describe('attached files are seen as often as they stand there', () => {
  it('and by their names', () => {
    const names = attachmentsOf(readStrictly(genuine)).map(({ name }) => name);
    const { quoteNumber } = pluggedDrain;
    expect(names).toEqual([`quote-${quoteNumber}.json`, `quote-${quoteNumber}.json.jws`]);
  });

  it.each<[string, () => Uint8Array]>([
    [
      'one name to some viewers and another to others',
      () => patched(genuine, '/UF (quote', '/UF (quota'),
    ],
    [
      'another name in the list than in the file',
      () => patched(genuine, /(\/Names \[\s*)\(q/, '$1(Q'),
    ],
  ])('and refused with %s', (_, make) => {
    expect(() => attachmentsOf(readStrictly(make()))).toThrow(StrictlyUnreadable);
  });
});

describe('what the pages look like has one digest', () => {
  const digest = (bytes: Uint8Array) => pagesDigest(readStrictly(bytes));

  it('whatever the objects are numbered and however the file is packed', async () => {
    for (const useObjectStreams of [false, true]) {
      expect(digest(await edited(genuine, () => {}, useObjectStreams))).toBe(digest(genuine));
    }
  });

  it('whatever files are attached to them', async () => {
    const { paper, pageUrl } = await sealQuote(pluggedDrain);
    const bare = await renderPaper({ paper, pageUrl, attachments: [] });
    expect(digest(bare)).toBe(digest(genuine));
  });

  it('and another one for another letter, tint or word read aloud', async () => {
    const others = await Promise.all([
      edited(genuine, (_, page) => page.drawRectangle({ x: 1, y: 1, width: 1, height: 1 })),
      edited(genuine, (_, page) => page.setMediaBox(0, 0, 612, 791)),
      edited(genuine, (document) => document.setLanguage('es')),
    ]);
    const spoken = patched(genuine, /\/Alt \(./, '/Alt (*');
    const titled = patched(genuine, '(Repair quote', '(Unpaid quote');
    const digests = new Set([genuine, spoken, titled, ...others].map(digest));
    expect(digests.size).toBe(others.length + 3);
  });
});

describe('a value is read in the one spelling that programs write (ISO 32000-2, 7.3)', () => {
  it.each<[string, unknown]>([
    ['(a\\(b\\)\\\\)', { kind: 'string', text: 'a(b)\\' }],
    ['(\\101\\007\\n\n)', { kind: 'string', text: 'A\u0007\n\n' }],
    ['<48656C6c6F20>', { kind: 'string', text: 'Hello ' }],
    ['<>', { kind: 'string', text: '' }],
    ['/A#20B', { kind: 'name', text: 'A B' }],
    ['/application#2fjson', { kind: 'name', text: 'application/json' }],
    ['/A#23', { kind: 'name', text: 'A#' }],
    ['-0.5', { kind: 'number', value: -0.5 }],
    ['4', { kind: 'number', value: 4 }],
    ['2147483647', { kind: 'number', value: 2_147_483_647 }],
    ['12 0 R', { kind: 'reference', objectNumber: 12 }],
    [
      '[1 0 2 0 R]',
      {
        kind: 'array',
        items: [
          { kind: 'number', value: 1 },
          { kind: 'number', value: 0 },
          { kind: 'reference', objectNumber: 2 },
        ],
      },
    ],
    ['true', { kind: 'boolean', value: true }],
    ['null', { kind: 'null' }],
    [
      '<</A/B/C<<>>>>',
      {
        kind: 'dictionary',
        entries: new Map<string, unknown>([
          ['A', { kind: 'name', text: 'B' }],
          ['C', { kind: 'dictionary', entries: new Map() }],
        ]),
      },
    ],
  ])('%s', (text, value) => {
    expect(new ValueParser(text).readValue()).toEqual(value);
  });

  it.each([
    '(open',
    '(in (pairs))',
    '(\\q)',
    '(\\7)',
    '(\\400)',
    '(over\\\nlines)',
    '(over\r\nlines)',
    `(${'x'.repeat(32_768)})`,
    '<4',
    '<4>',
    '<4 8>',
    '<<',
    '<</A 1 /A 2>>',
    '<</A 1 /#41 2>>',
    '<</A 1 % 2\n>>',
    '[',
    '[1\x002]',
    '[1\f2]',
    '[1\u000b2]',
    '[1\u00a02]',
    '/',
    '/A#2',
    '/A#00',
    '/#41',
    '/A\u00a0B',
    `/${'A'.repeat(128)}`,
    'truth',
    'TRUE',
    '1.2.3',
    '--1',
    '+1',
    '-0',
    '01',
    '1.0',
    '.5',
    '4.',
    '1e3',
    '2147483648',
    '0.1000000000000000055511151231257827',
    '[12  0 R]',
    '[012 0 R]',
    '[0 0 R]',
    '[12 1 R]',
    '',
    '%x\n1',
    '['.repeat(99),
  ])('and refused in any other: %j', (text) => {
    expect(() => new ValueParser(text).readValue()).toThrow(StrictlyUnreadable);
  });
});
