import { createHash } from 'node:crypto';
import { deflateSync } from 'node:zlib';
import type { PaperAttachment } from './paper.ts';

/**
 * Puts files into a paper that is drawn. Its pages stay as they are to the byte, so that a signature
 * over them can go into the paper without drawing it again.
 * @param paper a file from `drawPages`, with nothing attached
 * @param attachments in any order: they are kept by their names
 */
export function attachFiles(
  paper: Uint8Array,
  attachments: readonly PaperAttachment[],
): Uint8Array {
  if (attachments.length === 0) return paper;
  const frame = readFrame(paper);
  const objects = new Map(frame.tail);
  const byName = [...attachments].sort((one, other) => (one.name < other.name ? -1 : 1));
  const listed = byName.map((attachment): Listed => {
    const stream = addObject(frame, objects, embeddedFile(attachment, frame.createdAt));
    const specification = addObject(frame, objects, fileSpecification(attachment, stream));
    return { name: attachment.name, specification };
  });
  addEntry(
    objects,
    frame.root,
    `/AF [${listed.map(({ specification }) => to(specification)).join(' ')}]`,
  );
  const names = listed.map(({ name, specification }) => `${text(name)} ${to(specification)}`);
  addEntry(objects, frame.names, `/EmbeddedFiles <<\n/Names [${names.join(' ')}]\n>>`);
  return writeFile(paper, frame, objects);
}

interface Listed {
  name: string;
  specification: number;
}

/** What of a file has to be written anew. All texts hold one byte a letter. */
interface Frame {
  /** The table: where each object stands, by its number. The first row stands for no object. */
  rows: string[];
  trailer: string;
  root: number;
  names: number;
  /** The file's own instant, as it stands there. */
  createdAt: string;
  /** What comes last: the root with a few small objects, each as it stands there. */
  tail: ReadonlyMap<number, string>;
  tailStart: number;
}

/** Reads the table and the last objects of a file that pdfkit wrote just now. */
function readFrame(paper: Uint8Array): Frame {
  const file = Buffer.from(paper.buffer, paper.byteOffset, paper.byteLength);
  const end = file.toString('latin1', Math.max(0, file.length - END_BYTES));
  const tableStart = Number(found(/startxref\n(\d+)\n%%EOF\n$/, end));
  const table = file.toString('latin1', tableStart);
  const trailer = found(/trailer\n([\s\S]*?>>)\nstartxref/, table);
  const rows = table.match(/^\d{10} \d{5} [fn] $/gm) ?? [];
  const root = Number(found(/\/Root (\d+) 0 R/, trailer));
  const objectAt = (number: number) => {
    const start = offsetIn(rows[number]);
    const until = file.indexOf(OBJECT_END, start);
    return file.toString('latin1', start, until + OBJECT_END.length);
  };
  const tailStart = offsetIn(rows[root]);
  const inTail = [...rows.keys()].filter((number) => offsetIn(rows[number]) >= tailStart);
  const info = objectAt(Number(found(/\/Info (\d+) 0 R/, trailer)));
  return {
    rows,
    trailer,
    root,
    names: Number(found(/\/Names (\d+) 0 R/, objectAt(root))),
    createdAt: found(/(\(D:\w+\))/, objectAt(Number(found(/\/CreationDate (\d+) 0 R/, info)))),
    tail: new Map(inTail.map((number) => [number, objectAt(number)])),
    tailStart,
  };
}

const END_BYTES = 64;
function offsetIn(row = ''): number {
  return Number(row.slice(0, OFFSET_DIGITS));
}

function rowAt(offset: number): string {
  return `${String(offset).padStart(OFFSET_DIGITS, '0')} 00000 n `;
}

const OFFSET_DIGITS = 10;
const OBJECT_END = 'endobj\n';

function found(pattern: RegExp, where: string): string {
  const text = pattern.exec(where)?.[1];
  if (text === undefined) throw new Error(`The file is none that was just drawn: ${pattern}`);
  return text;
}

function addObject({ rows }: Frame, objects: Map<number, string>, body: string): number {
  const number = rows.push(rowAt(0)) - 1;
  objects.set(number, `${number} 0 obj\n${body}\n${OBJECT_END}`);
  return number;
}

/** Adds an entry to an object that is a dictionary. */
function addEntry(objects: Map<number, string>, number: number, entry: string): void {
  const object = objects.get(number) ?? '';
  const end = object.lastIndexOf('>>');
  if (end === -1) throw new Error(`Object ${number} is no dictionary.`);
  objects.set(number, `${object.slice(0, end)}${entry}\n${object.slice(end)}`);
}

function embeddedFile({ mediaType, bytes }: PaperAttachment, createdAt: string): string {
  const packed = deflateSync(bytes);
  const checksum = createHash('md5').update(bytes).digest('hex');
  return `<<
/Type /EmbeddedFile
/Subtype /${mediaType.replace('/', '#2F')}
/Params <<
/CreationDate ${createdAt}
/ModDate ${createdAt}
/CheckSum <${checksum}>
/Size ${bytes.length}
>>
/Filter /FlateDecode
/Length ${packed.length}
>>
stream
${packed.toString('latin1')}
endstream`;
}

function fileSpecification(
  { name, description, relationship }: PaperAttachment,
  stream: number,
): string {
  return `<<
/Type /Filespec
/AFRelationship /${relationship}
/F ${text(name)}
/UF ${text(name)}
/EF <<
/F ${to(stream)}
>>
/Desc ${text(description)}
>>`;
}

function to(number: number): string {
  return `${number} 0 R`;
}

/** A text as a PDF holds it (ISO 32000-1, 7.9.2.2): plain letters as they are, others in UTF-16. */
function text(value: string): string {
  if (/^[ -~]*$/.test(value)) return `(${value.replace(/[\\()]/g, '\\$&')})`;
  return `<feff${Buffer.from(value, 'utf16le').swap16().toString('hex')}>`;
}

function writeFile(
  paper: Uint8Array,
  frame: Frame,
  objects: ReadonlyMap<number, string>,
): Uint8Array {
  const rows = [...frame.rows];
  const pieces: string[] = [];
  let end = frame.tailStart;
  for (const [number, object] of objects) {
    rows[number] = rowAt(end);
    end += object.length;
    pieces.push(object);
  }
  const size = rows.length;
  pieces.push(`xref\n0 ${size}\n${rows.join('\n')}\n`);
  pieces.push(`trailer\n${frame.trailer.replace(/\/Size \d+/, `/Size ${size}`)}\n`);
  pieces.push(`startxref\n${end}\n%%EOF\n`);
  const anew = Buffer.from(pieces.join(''), 'latin1');
  const whole = new Uint8Array(frame.tailStart + anew.length);
  whole.set(paper.subarray(0, frame.tailStart));
  whole.set(anew, frame.tailStart);
  return whole;
}
