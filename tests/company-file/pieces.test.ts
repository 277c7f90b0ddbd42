import fc from 'fast-check';
import { expect, it } from 'vitest';
import { readCopyLine, writeCopyLine } from '../../src/company-file/copy-text.ts';
import { orderTables } from '../../src/company-file/order-tables.ts';
import { wholeLines } from '../../src/company-file/whole-lines.ts';

async function* inChunks(bytes: Buffer, size: number): AsyncGenerator<Buffer> {
  for (let at = 0; at < bytes.length; at += size) yield bytes.subarray(at, at + size);
}

it('a text cut anywhere comes together again, in whole lines', async () => {
  const unit = fc.constantFrom('\n', 'a', 'ö', '\u{1f9ca}', '\r');
  await fc.assert(
    fc.asyncProperty(fc.string({ unit }), fc.integer({ min: 1, max: 7 }), async (text, size) => {
      const pieces: string[] = [];
      for await (const piece of wholeLines(inChunks(Buffer.from(text), size))) pieces.push(piece);
      expect(pieces.join('')).toBe(text);
      expect(pieces.slice(0, -1).every((piece) => piece.endsWith('\n'))).toBe(true);
    }),
  );
});

// PostgreSQL 18 manual, COPY, "Text Format": the backslash sequences, and \N for a null.
it.each([
  ['a\tb', ['a', 'b']],
  ['\\N\t\t\\\\N', [null, '', '\\N']],
  ['\\b\\f\\n\\r\\t\\v\\\\', ['\b\f\n\r\t\v\\']],
])('a line of COPY is read and written as the manual says: %j', (line, row) => {
  expect(readCopyLine(line)).toEqual(row);
  expect(writeCopyLine(row)).toBe(`${line}\n`);
});

it('any row is one line of COPY, and is read as it was written', () => {
  const value = fc.option(fc.string({ unit: fc.constantFrom('\\', 'N', '\t', '\n', 'b', '\b') }));
  fc.assert(
    fc.property(fc.array(value, { minLength: 1 }), (row) => {
      const line = writeCopyLine(row);
      expect(line.indexOf('\n')).toBe(line.length - 1);
      expect(readCopyLine(line.slice(0, -1))).toEqual(row);
    }),
  );
});

it('a table comes after those it names, and circles begin where the fewest are waited for', () => {
  const refer = (...pairs: string[]) =>
    pairs.map((pair) => ({ from: pair.slice(0, 1), to: pair.slice(1) }));
  expect(orderTables(['c', 'b', 'a'], [])).toEqual(['a', 'b', 'c']);
  expect(orderTables(['a', 'b', 'c'], refer('ab', 'bc', 'aa'))).toEqual(['c', 'b', 'a']);
  expect(orderTables(['a', 'b', 'c', 'd'], refer('ab', 'bc', 'ca', 'ac', 'cd'))).toEqual([
    'd',
    'b',
    'a',
    'c',
  ]);
});
