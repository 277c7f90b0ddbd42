/** A file taken apart into its objects, as a forger does it, to be written otherwise. */
export interface PdfPieces {
  /** What stands between "obj" and "endobj", by the object's number. One letter a byte. */
  objects: ReadonlyMap<number, string>;
  root: number;
  info: number;
}

/** Takes apart a file of ours, which has one table written out in letters. */
export function takeApart(bytes: Uint8Array): PdfPieces {
  const text = Buffer.from(bytes).toString('latin1');
  const table = text.slice(Number(/startxref\n(\d+)\n%%EOF\n?$/.exec(text)?.[1]));
  const rows = [...table.matchAll(/^(\d{10}) (\d{5}) ([nf]) $/gm)];
  const objects = new Map<number, string>();
  for (const [number, [, offset, , kind]] of rows.entries()) {
    if (kind === 'n') objects.set(number, bodyAt(text, Number(offset)));
  }
  return { objects, root: referenced(table, 'Root'), info: referenced(table, 'Info') };
}

function bodyAt(text: string, offset: number): string {
  const start = text.indexOf('obj\n', offset) + 'obj\n'.length;
  const end = text.indexOf('\nendobj', start);
  const head = /^[\s\S]*?\nstream\n/.exec(text.slice(start, end))?.[0];
  if (head === undefined) return text.slice(start, end);
  const length = Number(/\/Length (\d+)/.exec(head)?.[1]);
  return text.slice(start, text.indexOf('\nendobj', start + head.length + length));
}

export function referenced(text: string, key: string): number {
  return Number(new RegExp(`/${key} (\\d+) 0 R`).exec(text)?.[1]);
}

/** The objects that the file's root and its description lead to. */
export function reachable({ objects, root, info }: PdfPieces): Map<number, string> {
  const reached = new Map<number, string>();
  const open = [root, info];
  for (let number = open.pop(); number !== undefined; number = open.pop()) {
    const body = objects.get(number);
    if (body === undefined || reached.has(number)) continue;
    reached.set(number, body);
    const [head = ''] = body.split('\nstream\n');
    for (const [, to] of head.matchAll(/\b(\d+) 0 R\b/g)) open.push(Number(to));
  }
  return reached;
}

/** The same objects under other numbers, so that two files fit into one. */
export function renumbered({ objects, root, info }: PdfPieces, by: number): PdfPieces {
  const moved = [...objects].map(([number, body]): [number, string] => {
    const [head = '', ...stream] = body.split(/(?=\nstream\n)/);
    const references = head.replace(/\b(\d+) 0 R\b/g, (_, to) => `${Number(to) + by} 0 R`);
    return [number + by, [references, ...stream].join('')];
  });
  return { objects: new Map(moved), root: root + by, info: info + by };
}

/** A file being written: objects one after the other, each place noted. */
export class PdfWriter {
  text = '%PDF-1.7\n%\u00ff\u00ff\u00ff\u00ff\n';
  readonly offsets = new Map<number, number>();

  put(objects: Iterable<readonly [number, string]>): this {
    for (const [number, body] of objects) {
      this.offsets.set(number, this.text.length);
      this.text += `${number} 0 obj\n${body}\nendobj\n`;
    }
    return this;
  }

  /** With a table written out in letters. */
  end({ root, info }: Pick<PdfPieces, 'root' | 'info'>, change: Partial<Ending> = {}): Uint8Array {
    const numbers = [...this.offsets.keys()].sort((a, b) => a - b);
    const start = this.text.length;
    const size = Math.max(...numbers) + 1;
    const rows = numbers.map(
      (number) => `${number} 1\n${digits(this.offsets.get(number))} 00000 n \n`,
    );
    const ending = { size, extra: '', between: '\n', after: '', ...change };
    const trailer = `trailer\n<< /Size ${ending.size} /Root ${root} 0 R /Info ${info} 0 R ${ending.extra}>>\n`;
    this.text += `xref\n0 1\n0000000000 65535 f \n${rows.join('')}${trailer}`;
    return this.#whole(start, ending);
  }

  /** With a table in a stream, and objects in packs where the rows say so. */
  endWithStream(
    number: number,
    { root, info }: Pick<PdfPieces, 'root' | 'info'>,
    change: Partial<StreamEnding> = {},
  ): Uint8Array {
    const start = this.text.length;
    this.offsets.set(number, start);
    const packed = change.packed ?? new Map<number, readonly [number, number]>();
    const rows = [...this.offsets]
      .map(([each, offset]) => tableRow(each, 1, offset, 0))
      .concat([...packed].map(([each, [pack, at]]) => tableRow(each, 2, pack, at)))
      .sort((a, b) => a.number - b.number);
    const plain = rows.map(({ bytes }) => bytes);
    const content = (change.pack ?? Buffer.concat)(plain).toString('latin1');
    const index = rows.map((row) => `${row.number} 1`).join(' ');
    const size = (rows.at(-1)?.number ?? 0) + 1;
    const body = `<< /Type /XRef /W [1 4 2] /Size ${size} /Index [${index}] /Root ${root} 0 R /Info ${info} 0 R ${change.extra ?? ''} /Length ${content.length} >>\nstream\n${content}\nendstream`;
    this.put([[number, body]]);
    return this.#whole(start, { between: '\n', after: '', ...change });
  }

  #whole(start: number, { between, after }: Pick<Ending, 'between' | 'after'>): Uint8Array {
    this.text += `startxref${between}${start}\n%%EOF\n${after}`;
    return new Uint8Array(Buffer.from(this.text, 'latin1'));
  }
}

interface Ending {
  size: number;
  /** Further entries of the trailer. */
  extra: string;
  /** What stands between the word and the number of the table's place. */
  between: string;
  after: string;
}

interface StreamEnding extends Omit<Ending, 'size'> {
  packed: ReadonlyMap<number, readonly [number, number]>;
  /** Puts the rows together. */
  pack: (rows: readonly Buffer[]) => Buffer;
}

/** A table in a stream that lists objects which are written elsewhere. */
export function tableStream(
  { root, info }: Pick<PdfPieces, 'root' | 'info'>,
  offsets: ReadonlyMap<number, number>,
): string {
  const rows = [...offsets].map(([number, offset]) => tableRow(number, 1, offset, 0));
  const index = rows.map(({ number }) => `${number} 1`).join(' ');
  const content = Buffer.concat(rows.map(({ bytes }) => bytes)).toString('latin1');
  return `<< /Type /XRef /W [1 4 2] /Size 9000 /Index [${index}] /Root ${root} 0 R /Info ${info} 0 R /Length ${content.length} >>\nstream\n${content}\nendstream`;
}

function tableRow(number: number, kind: number, where: number, which: number) {
  const bytes = Buffer.alloc(7);
  bytes.writeUInt8(kind);
  bytes.writeUInt32BE(where, 1);
  bytes.writeUInt16BE(which, 5);
  return { number, bytes };
}

function digits(offset: number | undefined): string {
  return String(offset).padStart(10, '0');
}
