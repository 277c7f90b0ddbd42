/** The tables of a TrueType font by their tags (OpenType 1.9, 'Organization of an OpenType font'). */
export type FontTables = ReadonlyMap<string, Buffer>;

/** Takes a font's file apart. The tables are views of the file, not copies. */
export function readTables(file: Buffer): FontTables {
  const tables = new Map<string, Buffer>();
  const count = file.readUInt16BE(4);
  for (let at = 0; at < count; at += 1) {
    const entry = HEADER_BYTES + at * ENTRY_BYTES;
    const start = file.readUInt32BE(entry + 8);
    const length = file.readUInt32BE(entry + 12);
    tables.set(file.toString('latin1', entry, entry + 4), file.subarray(start, start + length));
  }
  return tables;
}

/** Puts tables together into a font's file, in the order of their tags. */
export function writeTables(tables: FontTables): Buffer {
  const sorted = [...tables].sort(([one], [other]) => (one < other ? -1 : 1));
  const header = Buffer.alloc(HEADER_BYTES + sorted.length * ENTRY_BYTES);
  const power = Math.floor(Math.log2(sorted.length));
  header.writeUInt32BE(TRUE_TYPE, 0);
  header.writeUInt16BE(sorted.length, 4);
  header.writeUInt16BE(2 ** power * ENTRY_BYTES, 6);
  header.writeUInt16BE(power, 8);
  header.writeUInt16BE((sorted.length - 2 ** power) * ENTRY_BYTES, 10);
  const pieces = [header];
  let start = header.length;
  sorted.forEach(([tag, table], index) => {
    const entry = HEADER_BYTES + index * ENTRY_BYTES;
    const padded = Buffer.concat([table], Math.ceil(table.length / 4) * 4);
    header.write(tag, entry, 'latin1');
    header.writeUInt32BE(checksum(padded), entry + 4);
    header.writeUInt32BE(start, entry + 8);
    header.writeUInt32BE(table.length, entry + 12);
    pieces.push(padded);
    start += padded.length;
  });
  return Buffer.concat(pieces);
}

const TRUE_TYPE = 0x0001_0000;
const HEADER_BYTES = 12;
const ENTRY_BYTES = 16;

/** The sum of a table's 32-bit words, without what flows over. */
function checksum(padded: Buffer): number {
  let sum = 0;
  for (let at = 0; at < padded.length; at += 4) sum = (sum + padded.readUInt32BE(at)) >>> 0;
  return sum;
}
