import { deflateSync, inflateSync } from 'node:zlib';
import { type PdfPieces, PdfWriter, renumbered, tableStream } from './pdf-pieces.ts';

/** One of the forger's moves: which, and two choices within it. */
export type Move = readonly [kind: number, one: number, two: number];

/** A file on the forger's bench: objects of two papers, and how they are to be written. */
interface Bench {
  objects: [number, string][];
  pieces: PdfPieces;
  other: PdfPieces;
  table: 'letters' | 'stream' | 'differences' | 'untold differences';
  /** Objects whose numbers are multiples of it go into a pack; none where it is nought. */
  packEvery: number;
  packEntries: string;
  packSpaces: string;
  hasOther: boolean;
  /** Whether the other paper has a whole table too, and whether a viewer may start from it. */
  otherTable: 'none' | 'hidden' | 'in front';
  trailer: string;
  between: string;
  before: string;
  after: string;
  /** Done to the letters of the whole file once it is written. */
  last: ((text: string) => string)[];
}

/** Writes one paper anew, by the forger's moves, with another paper at hand. */
export function forgeAtRandom(ours: PdfPieces, other: PdfPieces, moves: readonly Move[]) {
  const bench: Bench = {
    objects: [...ours.objects],
    pieces: ours,
    other,
    table: 'letters',
    packEvery: 0,
    packEntries: '',
    packSpaces: '\n',
    hasOther: false,
    otherTable: 'none',
    trailer: '',
    between: '\n',
    before: '',
    after: '',
    last: [],
  };
  for (const [kind, one, two] of moves) MOVES[kind % MOVES.length]?.(bench, one, two);
  return write(bench);
}

const SPACES = [' ', '\n', '\t', '\r', '\0', '\f', '\u000b', '\u00a0', ' %a\n', '', '\r\n'];
const EXTRA = [
  '/Prev 15 ',
  '/XRefStm 15 ',
  '/ID [<00> <01>] ',
  '/ID [(a) 5] ',
  '/Root 1003 0 R ',
  '/Size 9 ',
  '/Encrypt << >> ',
  '/A#42 1 ',
  '/Info 1003 0 R ',
  '/Type /XRef ',
];
const PACK_EXTRA = ['/DP << /Predictor 12 >> ', '/Extends 1 0 R ', '/F (x) ', '/N 1 ', '/First 4 '];
const STREAM_EXTRA = [
  '/DP 5 ',
  '/F (x) ',
  '/DL 5 ',
  '/FFilter /FlateDecode ',
  '/DecodeParms null ',
];

/** The first ones change nothing that a viewer shows; the others mean to. */
const MOVES: ((bench: Bench, one: number, two: number) => void)[] = [
  (bench, one) => {
    bench.pieces = renumbered({ ...bench.pieces, objects: new Map(bench.objects) }, one % 50);
    bench.objects = [...bench.pieces.objects];
  },
  ({ objects }, one) => objects.push(...objects.splice(0, one % objects.length)),
  (bench, one) => {
    bench.table = (['letters', 'stream', 'differences'] as const)[one % 3] ?? 'letters';
  },
  (bench, one) => {
    bench.packEvery = 1 + (one % 4);
    if (bench.table === 'letters') bench.table = 'stream';
  },
  ({ objects }, one) => objects.push([400 + (one % 50), '<< >>']),
  ({ objects }, one, two) => repack(objects, one, two % 10),
  (bench, one, two) => respell(bench.objects, / |\n/g, one, () => SPACES[two % 2] ?? ' '),
  // From here on another paper may come to light.
  (bench, one, two) =>
    respell(bench.objects, / |\n/g, one, () => SPACES[two % SPACES.length] ?? ' '),
  (bench, one, two) =>
    respell(bench.objects, /\/[A-Za-z]/g, one, (found) =>
      two % 2 === 0 ? `/#${found.charCodeAt(1).toString(16)}` : '/',
    ),
  (bench, one, two) =>
    respell(bench.objects, /\b\d+\b/g, one, (found) => {
      return (
        [`0${found}`, `+${found}`, `${found}.0`, `${found}.`, '2147483648', '-0'][two % 6] ?? ''
      );
    }),
  (bench) => {
    bench.hasOther = true;
  },
  (bench, one) => {
    bench.hasOther = true;
    respell(bench.objects, /\b\d+ 0 R\b/g, one, (found) => `1${found.padStart(7, '0')}`);
  },
  ({ objects, other }, one, two) => {
    // One number, written twice: the table lists the later one.
    const [number] = objects[one % objects.length] ?? [0];
    const bodies = [...other.objects.values()];
    const second: [number, string] = [number, bodies[two % bodies.length] ?? ''];
    if (two % 2 === 0) objects.unshift(second);
    else objects.push(second);
  },
  (bench, one) => {
    bench.trailer += EXTRA[one % EXTRA.length] ?? '';
  },
  (bench, one) => {
    bench.between = SPACES[one % SPACES.length] ?? '';
  },
  (bench, one, two) => {
    const junk = ['%%EOF\n', 'startxref\n0\n', ' ', '\n', '\0', '%PDF-1.4\n', 'x'][one % 7] ?? '';
    if (two % 2 === 0) bench.before = junk;
    else bench.after = junk;
  },
  (bench, one) => {
    bench.hasOther = true;
    const table = tableStream(
      bench.other,
      new Map([...bench.other.objects.keys()].map((n) => [n, n])),
    );
    const strange = [table, '<< /Linearized 1 /L 9 /N 1 >>', '<< /Type /Catalog >>'][one % 3] ?? '';
    bench.objects.unshift([450, strange]);
  },
  (bench, one) => {
    bench.hasOther = true;
    bench.otherTable = one % 2 === 0 ? 'hidden' : 'in front';
  },
  (bench, one) => {
    bench.table = 'untold differences';
    const parameters = ['/Predictor 1 /Columns 7', '/Columns 7', '/Predictor 12 /Columns 7'][
      one % 3
    ];
    bench.trailer += `/DecodeParms << ${parameters} >> `;
  },
  (bench, one) => {
    bench.packEntries += PACK_EXTRA[one % PACK_EXTRA.length] ?? '';
  },
  (bench, one) => {
    bench.packSpaces = [...SPACES, '5 ', '\n5\n'][one % (SPACES.length + 2)] ?? '';
  },
  ({ objects }, one, two) => {
    const streams = objects.filter(([, body]) => body.includes('\nstream\n'));
    const found = streams[one % streams.length];
    if (found === undefined) return;
    const extra = STREAM_EXTRA[two % STREAM_EXTRA.length] ?? '';
    found[1] = found[1].replace('<<', `<< ${extra}`);
  },
  ({ objects, pieces }, one) => {
    const found = objects.find(([number]) => number === pieces.info);
    const extra = ['/Linearized 1', '/Author (x)', '/Trapped /True', '/Type /XRef'][one % 4];
    if (found !== undefined) found[1] = found[1].replace('<<', `<< ${extra} `);
  },
  ({ last }, one, two) =>
    last.push((text) => {
      const at = one % text.length;
      return `${text.slice(0, at)}${String.fromCharCode(two % 256)}${text.slice(at + 1)}`;
    }),
  ({ last }, one, two) =>
    last.push((text) => {
      const at = one % text.length;
      return `${text.slice(0, at)}${text.slice(at + 1 + (two % 9))}`;
    }),
  ({ last }, one, two) =>
    last.push((text) => {
      const rows = [...text.matchAll(/\d{10} 00000 n /g)];
      const [row, from] = [rows[one % rows.length], rows[two % rows.length]];
      if (row === undefined || from === undefined) return text;
      return `${text.slice(0, row.index)}${from[0]}${text.slice(row.index + from[0].length)}`;
    }),
];

function respell(
  objects: [number, string][],
  pattern: RegExp,
  choice: number,
  change: (found: string) => string,
): void {
  const object = objects[choice % objects.length];
  if (object === undefined) return;
  const [head = '', ...stream] = object[1].split(/(?=\nstream\n)/);
  const places = [...head.matchAll(pattern)];
  const place = places[Math.floor(choice / objects.length) % Math.max(1, places.length)];
  if (place === undefined) return;
  const end = place.index + place[0].length;
  object[1] = [head.slice(0, place.index), change(place[0]), head.slice(end), ...stream].join('');
}

/** Packs a stream at another level, not at all, or with something behind it. */
function repack(objects: [number, string][], choice: number, level: number): void {
  const streams = objects.filter(([, body]) =>
    /\/Filter \/FlateDecode[\s\S]*\nstream\n/.test(body),
  );
  const object = streams[choice % Math.max(1, streams.length)];
  if (object === undefined) return;
  const [head = '', content = ''] = object[1].split('\nstream\n');
  const bytes = inflateSync(Buffer.from(content.slice(0, -'\nendstream'.length), 'latin1'));
  const packed = level === 0 ? bytes : deflateSync(bytes, { level });
  const filter = level === 0 ? head.replace('/Filter /FlateDecode', '') : head;
  const length = filter.replace(/\/Length \d+/, `/Length ${packed.length}`);
  object[1] = `${length}\nstream\n${packed.toString('latin1')}\nendstream`;
}

function write(bench: Bench): Uint8Array {
  let written = writeOnce(bench, new Map(), 0);
  // What stands in the other table moves what it lists, and twice is enough for it to stand still.
  for (let round = 0; round < 2 && bench.otherTable !== 'none'; round += 1) {
    written = writeOnce(bench, written.offsets, written.bytes.length);
  }
  const text = Buffer.from(written.bytes).toString('latin1');
  const changed = bench.last.reduce((done, each) => each(done), text);
  return new Uint8Array(Buffer.from(changed, 'latin1'));
}

function writeOnce(bench: Bench, offsets: ReadonlyMap<number, number>, length: number) {
  const { pieces, other, packEvery, between, after, trailer } = bench;
  const isPacked = ([number, body]: [number, string]) =>
    packEvery > 0 && number % packEvery === 0 && !body.includes('\nstream\n');
  const toPack = bench.objects.filter(isPacked);
  const writer = new PdfWriter();
  writer.text = `${bench.before}${writer.text}`;
  if (bench.otherTable === 'in front') {
    const size = String(length).padEnd(9);
    writer.put([[460, `<< /Linearized 1 /L ${size} /H [9 9] /O ${other.root} /E 9 /N 1 /T 9 >>`]]);
  }
  if (bench.otherTable !== 'none') {
    const listed = [...other.objects.keys()].map((each) => [each, offsets.get(each) ?? 0] as const);
    writer.put([[470, tableStream(other, new Map(listed))]]);
  }
  if (bench.hasOther) writer.put(other.objects);
  writer.put(bench.objects.filter((each) => !isPacked(each)));
  if (toPack.length > 0) writer.put([[480, packOf(toPack, bench)]]);
  const change = { between, after, extra: trailer };
  const bytes =
    bench.table === 'letters'
      ? writer.end(pieces, change)
      : writer.endWithStream(490, pieces, {
          ...change,
          ...(bench.table === 'differences' ? DIFFERENCES : {}),
          ...(bench.table === 'untold differences' ? { pack: upRows } : {}),
          packed: new Map(toPack.map(([number], at) => [number, [480, at] as const])),
        });
  return { bytes, offsets: writer.offsets };
}

function packOf(objects: [number, string][], { packEntries, packSpaces }: Bench): string {
  let body = '';
  const head = objects.map(([number, each]) => {
    const start = body.length;
    body += `${each}${packSpaces}`;
    return `${number} ${start} `;
  });
  const first = head.join('').length;
  const content = `${head.join('')}${body}`;
  return `<< ${packEntries}/Type /ObjStm /N ${objects.length} /First ${first} /Length ${content.length} >>\nstream\n${content}\nendstream`;
}

/** A table in a stream whose rows hold the differences to the rows above. */
export const DIFFERENCES = {
  extra: '/Filter /FlateDecode /DecodeParms << /Predictor 12 /Columns 7 >>',
  pack: (rows: readonly Buffer[]) => deflateSync(upRows(rows)),
};

/** Rows by their differences to the rows above (PNG, filter type 2). */
export function upRows(rows: readonly Buffer[]): Buffer {
  return Buffer.concat(
    rows.map((row, at) =>
      Buffer.from([2, ...row.map((byte, index) => (byte - (rows[at - 1]?.[index] ?? 0)) & 0xff)]),
    ),
  );
}
