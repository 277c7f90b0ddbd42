import { deflateSync } from 'node:zlib';
import { beforeAll, describe, expect, it } from 'vitest';
import { renderPaper } from '../../src/documents/index.ts';
import { attachmentsOf } from '../../src/proof/pdf/attachments-of.ts';
import { StrictlyUnreadable } from '../../src/proof/pdf/pdf-value.ts';
import { readStrictly } from '../../src/proof/pdf/read-strictly.ts';
import { readSeenFile } from '../../src/proof/read-seen-file.ts';
import { verifyPaper } from '../../src/proof/verify-paper.ts';
import { lumpSum } from '../documents/sample-papers.ts';
import {
  type PdfPieces,
  PdfWriter,
  reachable,
  renumbered,
  tableStream,
  takeApart,
} from './pdf-pieces.ts';
import { dearer, keys, sealQuote } from './sealed-papers.ts';

let ours: PdfPieces;
/** The same paper at ten times the price, under numbers of its own. */
let other: PdfPieces;

beforeAll(async () => {
  const sheet = await sealQuote(lumpSum);
  ours = takeApart(await renderPaper(sheet));
  const forged = await renderPaper({ ...sheet, paper: { kind: 'quote', paper: dearer } });
  other = renumbered(takeApart(forged), 1_000);
});

async function amountsSeen(bytes: Uint8Array): Promise<string> {
  const { pages } = await readSeenFile(bytes);
  return pages.flatMap(({ words }) => words.filter((word) => word.startsWith('$'))).join(' ');
}

/** Two papers in one file, each with a table: which one is shown depends on where a viewer starts. */
function twice(first: readonly [number, string][] = []): {
  writer: PdfWriter;
  table: () => string;
} {
  const written = (table: string) =>
    new PdfWriter()
      .put(first)
      .put([[2_501, table]])
      .put(ours.objects)
      .put(other.objects);
  const theirs = ({ offsets }: PdfWriter) =>
    tableStream(other, new Map([...offsets].filter(([number]) => other.objects.has(number))));
  let writer = written(theirs(written('')));
  // The table's own length moves what it lists; its length stays.
  writer = written(theirs(writer));
  return { writer, table: () => theirs(writer) };
}

/** A table whose rows hold differences to the row above, under a predictor that says they do not. */
function upRows(rows: readonly Buffer[]): Buffer {
  return Buffer.concat(
    rows.map((row, at) =>
      Buffer.from([2, ...row.map((byte, index) => (byte - (rows[at - 1]?.[index] ?? 0)) & 0xff)]),
    ),
  );
}

/** Letters that begin with one root as they are, and with another after a predictor is undone. */
function rootPack(): { text: string; first: number; columns: number } {
  const columns = 64;
  const row = columns + 1;
  let text = '';
  const place = (token: string) => {
    for (;;) {
      if (text.length % row === 0) text += '\0';
      const left = row - (text.length % row);
      if (token.length < left) break;
      text += ' '.repeat(left);
    }
    text += `${token} `;
  };
  const spaceTo = (length: number) => {
    while (text.length < length) text += text.length % row === 0 ? '\0' : ' ';
  };
  for (const token of [String(ours.root), '0']) place(token);
  const first = row * columns * 14;
  spaceTo(first);
  for (const token of rootOf(ours).split(/\s+/)) place(token);
  let shown = first;
  while (shown - Math.floor(shown / row) - 1 < first) shown += 1;
  spaceTo(shown);
  for (const token of rootOf(other).split(/\s+/)) place(token);
  return { text: text.padEnd(Math.ceil(text.length / row) * row), first, columns };
}

function rootOf({ objects, root }: PdfPieces): string {
  return objects.get(root) ?? '';
}

function without({ objects, root }: PdfPieces): [number, string][] {
  return [...objects].filter(([number]) => number !== root);
}

function stream(entries: string, content: string): string {
  return `<< ${entries} /Length ${content.length} >>\nstream\n${content}\nendstream`;
}

function deflated(text: string): string {
  return deflateSync(Buffer.from(text, 'latin1')).toString('latin1');
}

/** The root alone in a pack of objects. */
function packedRoot(entries: string, content: string, position = 0): Uint8Array {
  const packed = new Map([[ours.root, [2_500, position] as const]]);
  return new PdfWriter()
    .put(without(ours))
    .put([[2_500, stream(entries, content)]])
    .endWithStream(2_501, ours, { packed });
}

function plainPack(body: string, head = `${ours.root} 0 `): Uint8Array {
  const entries = `/Type /ObjStm /N 1 /First ${head.length} /Filter /FlateDecode`;
  return packedRoot(entries, deflated(`${head}${body}`));
}

/** Our file with some of its objects written otherwise. */
function changed(change: (body: string, number: number) => string): Uint8Array {
  const objects = [...ours.objects].map(
    ([number, body]) => [number, change(body, number)] as const,
  );
  return new PdfWriter().put(objects).end(ours);
}

describe('our own objects, only written into another file', () => {
  it.each<[string, () => Uint8Array]>([
    ['with a table', () => new PdfWriter().put(ours.objects).end(ours)],
    [
      'with a table in a stream',
      () => new PdfWriter().put(ours.objects).endWithStream(2_501, ours),
    ],
    [
      'with a table in a stream, its rows told by their differences',
      () =>
        new PdfWriter().put(ours.objects).endWithStream(2_501, ours, {
          pack: (rows) => deflateSync(upRows(rows)),
          extra: '/Filter /FlateDecode /DecodeParms << /Predictor 12 /Columns 7 >>',
        }),
    ],
    ['with a pack', () => plainPack(rootOf(ours))],
    [
      'under other numbers',
      () => new PdfWriter().put(renumbered(ours, 7).objects).end(renumbered(ours, 7)),
    ],
  ])('have our pages: %s', async (_, make) => {
    expect(await verifyPaper(make(), keys)).toMatchObject({ verdict: 'same_pages' });
  });
});

describe('a file with another price in it for some viewers', () => {
  it.each<[string, () => Uint8Array, string]>([
    [
      'a second table, from which viewers start that read a file from its front',
      () => {
        const linear = (length: number) =>
          `<< /Linearized 1 /L ${String(length).padEnd(9)} /H [100 100] /O ${other.root} /E 5000 /N 1 /T 5000 >>`;
        const long = twice([[2_500, linear(0)]]).writer.end(ours).length;
        return twice([[2_500, linear(long)]]).writer.end(ours);
      },
      'the file is Linearized',
    ],
    [
      'a second table, for viewers that take no hard space before the place of the first',
      () => twice().writer.end(ours, { between: '\u00a0' }),
      'does not begin or end',
    ],
    [
      'a second table, for viewers that undo no differences where none are said to be',
      () =>
        twice().writer.endWithStream(2_502, ours, {
          pack: upRows,
          extra: '/DecodeParms << /Predictor 1 /Columns 7 >>',
        }),
      'the table of objects is broken',
    ],
    [
      'a root in a pack that reads otherwise once a predictor is undone',
      () => {
        const { text, first, columns } = rootPack();
        const packed = new Map([[ours.root, [2_500, 0] as const]]);
        const entries = `/Type /ObjStm /N 1 /First ${first} /Filter /FlateDecode /DecodeParms << /Predictor 12 /Columns ${columns} >>`;
        return new PdfWriter()
          .put(without(ours))
          .put(other.objects)
          .put([[2_500, stream(entries, deflated(text))]])
          .endWithStream(2_501, ours, { packed });
      },
      'a pack of objects is not plain',
    ],
  ])('is not ours: %s', async (_, make, words) => {
    const file = make();
    // The forgery is one: what browsers read in it is the other price.
    expect(await amountsSeen(file)).toContain('$3,821.00');
    expect(() => readStrictly(file)).toThrow(words);
    expect((await verifyPaper(file, keys)).verdict).toBe('altered');
  });
});

describe('a file that leaves room for another', () => {
  const atEnd = (change: Parameters<PdfWriter['end']>[1]) => () =>
    new PdfWriter().put(ours.objects).end(ours, change);
  const withStream = (change: Parameters<PdfWriter['endWithStream']>[2]) => () =>
    new PdfWriter().put(ours.objects).endWithStream(2_501, ours, change);
  const behind = (body: string) => {
    const length = Number(/\/Length (\d+)/.exec(body)?.[1]);
    const extra = '\nother bytes\n';
    return body
      .replace(/\/Length \d+/, `/Length ${length + extra.length}`)
      .replace(/\nendstream$/, `${extra}\nendstream`);
  };
  const isPacked = (body: string) => body.includes('/FlateDecode') && body.includes('\nstream\n');
  const pack = (head: string, body: string, entries: string) =>
    packedRoot(`/Type /ObjStm /First ${head.length} ${entries}`, `${head}${body}`);

  it.each<[string, () => Uint8Array]>([
    [
      'an object that nothing leads to',
      () =>
        new PdfWriter()
          .put(ours.objects)
          .put([[900, '<< /A 1 >>']])
          .end(ours),
    ],
    [
      'a whole paper that nothing leads to',
      () => new PdfWriter().put(ours.objects).put(other.objects).end(ours),
    ],
    [
      'bytes behind the end of packed ones',
      () => changed((body) => (isPacked(body) ? behind(body) : body)),
    ],
    [
      'an object written within a stream',
      () =>
        changed((body) =>
          body
            .replace('?>\nendstream', '?>\n7 0 obj\nendstream')
            .replace(
              /\/Length (\d+)(?=[\s\S]*7 0 obj)/,
              (_, length) => `/Length ${Number(length) + 8}`,
            ),
        ),
    ],
    ['a table said to be shorter', atEnd({ size: 5 })],
    ['a table said to be longer', atEnd({ size: 5_000 })],
    ['a table before it', atEnd({ extra: '/Prev 15 ' })],
    ['a second table beside it', atEnd({ extra: '/XRefStm 15 ' })],
    ['an entry that nobody knows', atEnd({ extra: '/Another 15 ' })],
    ['a comment behind the end', atEnd({ after: '%\n' })],
    ['a second end', atEnd({ after: 'startxref\n9\n%%EOF\n' })],
    ['another space before the place of the table', atEnd({ between: '\u000b' })],
    ['a place with noughts before it', atEnd({ between: '\n0' })],
    [
      'a table without the differences it is said to have',
      withStream({ extra: '/DecodeParms << /Predictor 12 /Columns 7 >>' }),
    ],
    [
      'a table with differences that are not packed',
      withStream({ pack: upRows, extra: '/DecodeParms << /Predictor 12 /Columns 7 >>' }),
    ],
    [
      'a table with rows in several colors',
      withStream({
        pack: (rows) => deflateSync(upRows(rows)),
        extra: '/Filter /FlateDecode /DecodeParms << /Predictor 12 /Columns 7 /Colors 2 >>',
      }),
    ],
    ['a table under the short name of a filter', withStream({ extra: '/F /FlateDecode' })],
    [
      'a table with a row too many',
      withStream({ pack: (rows) => Buffer.concat([...rows, Buffer.alloc(7)]) }),
    ],
    [
      'a pack under a short name of parameters',
      () => pack(`${ours.root} 0 `, rootOf(ours), '/N 1 /DP << /Predictor 12 >>'),
    ],
    [
      'a pack that goes on elsewhere',
      () => pack(`${ours.root} 0 `, rootOf(ours), '/N 1 /Extends 2 0 R'),
    ],
    [
      'a pack of more than it is said to hold',
      () => pack(`${ours.root} 0 7 1 `, rootOf(ours), '/N 1'),
    ],
    [
      'a pack of more than the table lists',
      () => pack(`${ours.root} 0 900 ${rootOf(ours).length + 1} `, `${rootOf(ours)}\n<<>>`, '/N 2'),
    ],
    ['a pack with letters between its values', () => plainPack(`${rootOf(ours)} 5`)],
    [
      'a pack with letters before its values',
      () => plainPack(`5 ${rootOf(ours)}`, `${ours.root} 2 `),
    ],
    ['a pack with a comment', () => plainPack(`${rootOf(ours)} %`)],
    [
      'an object in another place of its pack than the table says',
      () => packedRoot(`/Type /ObjStm /N 1 /First 4`, `${ours.root} 0 ${rootOf(ours)}`, 1),
    ],
    [
      'a length that stands elsewhere',
      () =>
        new PdfWriter()
          .put(
            [...ours.objects].map(
              ([number, body]) =>
                [
                  number,
                  isPacked(body) ? body.replace(/\/Length \d+/, '/Length 900 0 R') : body,
                ] as const,
            ),
          )
          .put([[900, '5']])
          .end(ours),
    ],
    [
      'a comment in an object',
      () =>
        changed((body, number) => (number === ours.root ? body.replace('<<\n', '<< % 1\n') : body)),
    ],
    [
      'objects under very high numbers',
      () =>
        new PdfWriter().put(renumbered(ours, 5_000_000).objects).end(renumbered(ours, 5_000_000)),
    ],
    [
      'a trailer in its description',
      () =>
        changed((body, number) =>
          number === ours.info
            ? body
                .replace('<<\n', '<<\n/Producer (trailer << /Root 1 0 R >>)\n')
                .replace(/\/Producer \d+ 0 R/, '')
            : body,
        ),
    ],
    [
      'an author',
      () =>
        changed((body, number) =>
          number === ours.info ? body.replace('<<\n', '<<\n/Author (x)\n') : body,
        ),
    ],
    [
      'a stream in its description',
      () =>
        changed((body, number) =>
          number === ours.info ? body.replace('<<\n', `<<\n/Keywords ${ours.root} 0 R\n`) : body,
        ),
    ],
    [
      'scripts among its names',
      () => changed((body) => body.replace('/Dests <<', '/JavaScript << /Names [] >>\n/Dests <<')),
    ],
  ])('is not ours: %s', async (_, make) => {
    const file = make();
    expect(() => attachmentsOf(readStrictly(file))).toThrow(StrictlyUnreadable);
    expect(['genuine', 'same_pages']).not.toContain((await verifyPaper(file, keys)).verdict);
  });
});

describe('data that go with a paper by another road than the list of its files', () => {
  const data = stream('/Type /EmbeddedFile', '{"totalCents":382100}');
  const specification = (name: string) =>
    `<< /Type /Filespec /AFRelationship /Data /F (${name}) /UF (${name}) /EF << /F 901 0 R >> >>`;
  const added = (change: (body: string, number: number) => string) => {
    const bodies = [...ours.objects].map(
      ([number, body]) => [number, change(body, number)] as const,
    );
    const leadsTo = (number: number) => bodies.some(([, body]) => body.includes(`${number} 0 R`));
    const more: [number, string][] = leadsTo(900)
      ? [[900, specification('quote-Q-10046.json')]]
      : [];
    if (leadsTo(900) || leadsTo(901)) more.push([901, data]);
    return new PdfWriter().put(bodies).put(more).end(ours);
  };
  const onPage = (entry: string) => (body: string) =>
    /\/Type \/Page\n/.test(body) ? body.replace('/Type /Page\n', `/Type /Page\n${entry}\n`) : body;
  const inRoot = (entry: string) => (body: string, number: number) =>
    number === ours.root ? body.replace('<<\n', `<<\n${entry}\n`) : body;

  it.each<[string, (body: string, number: number) => string]>([
    ['in place of one that goes with it', (body) => body.replace(/\/AF \[\d+ 0 R/, '/AF [900 0 R')],
    ['beside those that go with it', (body) => body.replace(/\/AF \[/, '/AF [900 0 R ')],
    ['of a page', onPage('/AF [900 0 R]')],
    [
      'of an element',
      (body) => body.replace('/Type /StructTreeRoot', '/Type /StructTreeRoot\n/AF [900 0 R]'),
    ],
    [
      'of a note',
      onPage('/Annots [<< /Type /Annot /Subtype /FileAttachment /Rect [0 0 9 9] /FS 900 0 R >>]'),
    ],
    [
      'of a film',
      onPage(
        '/Annots [<< /Type /Annot /Subtype /RichMedia /Rect [0 0 9 9] /RichMediaContent << /Assets << /Names [(a) 900 0 R] >> >> >>]',
      ),
    ],
    ['of a folder', inRoot('/Collection << /D (quote-Q-10046.json) /Other 900 0 R >>')],
    [
      'of the description of the file',
      (body) => body.replace('/Type /Metadata', '/Type /Metadata\n/AF [900 0 R]'),
    ],
    [
      'as another stream for another system',
      (body) => body.replace(/\/EF <<\n/, '/EF <<\n/Unix 901 0 R\n'),
    ],
    [
      'as another stream for the longer name',
      (body) => body.replace(/\/EF <<\n/, '/EF <<\n/UF 901 0 R\n'),
    ],
    [
      'behind the type of one that goes with it',
      (body) => body.replace('/Type /Filespec', '/Type 900 0 R'),
    ],
    [
      'behind its relationship',
      (body) => body.replace('/AFRelationship /Data', '/AFRelationship 900 0 R'),
    ],
    [
      'behind the type of its content',
      (body) => body.replace('/Type /EmbeddedFile', '/Type 900 0 R'),
    ],
    [
      'behind the kind of its content',
      (body) => body.replace('/Subtype /application#2Fjson', '/Subtype 900 0 R'),
    ],
    ['behind its size', (body) => body.replace(/\/Size \d+(?=\n>>)/, '/Size 900 0 R')],
    ['behind its day', (body) => body.replace(/\/Params <<\n/, '/Params <<\n/CheckSum2 900 0 R\n')],
    [
      'as a file related to one that goes with it',
      (body) => body.replace(/\/EF <<\n/, '/RF << /F [(a) 901 0 R] >>\n/EF <<\n'),
    ],
    [
      'in a file elsewhere',
      (body) => body.replace('/Type /EmbeddedFile', '/Type /EmbeddedFile\n/F 900 0 R'),
    ],
  ])('are not ours: %s', async (_, change) => {
    const file = added(change);
    expect(Buffer.from(file).includes('382100')).toBe(true);
    expect(['genuine', 'same_pages']).not.toContain((await verifyPaper(file, keys)).verdict);
  });
});

describe('what the digest of the pages leaves out', () => {
  /** The description of the file, the lists of its files, and each with its content. */
  const leftOut = (body: string, number: number) =>
    number === ours.info || /\/EmbeddedFile|\/Filespec/.test(body) || body.includes('/Dests <<');
  const ways = [
    'THERE',
    '[THERE]',
    '<< /A THERE >>',
    '<< /Names [(a) THERE] >>',
    '[(a) THERE]',
    '[(quote-Q-10046.json) THERE]',
  ];

  it('has no value that could lead to another paper', () => {
    const theirs = reachable({ ...other, info: other.root });
    let tried = 0;
    for (const [number, body] of ours.objects) {
      if (!leftOut(body, number)) continue;
      for (const { index, 0: found, 1: key = '' } of body.matchAll(VALUES)) {
        if (index > (body.indexOf('\nstream\n') + 1 || body.length)) continue;
        for (const way of ways) {
          const start = index + key.length;
          const to = way.replace('THERE', `${other.root} 0 R`);
          const forged = `${body.slice(0, start)}${to}${body.slice(index + found.length)}`;
          const objects = new Map(ours.objects).set(number, forged);
          const kept = reachable({ ...ours, objects });
          const file = new PdfWriter().put(new Map([...kept, ...theirs])).end(ours);
          tried += 1;
          expect(() => attachmentsOf(readStrictly(file)), forged).toThrow(StrictlyUnreadable);
        }
      }
    }
    expect(tried).toBeGreaterThan(200);
  });
});

/** An entry's key, and its value: a text, a reference, a name, a number, a list or a dictionary. */
const VALUES = /(\/\w+ )(?:\([^)]*\)|<[0-9a-f]+>|\d+ 0 R|\/[\w#]+|\d+|\[[^\]]*\]|<<[^<>]*>>)/g;
