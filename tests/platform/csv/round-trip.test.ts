import { parse } from 'csv-parse/sync';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { guardFormula, unguardFormula } from '../../../src/platform/csv/guard-formula.ts';
import { readTable } from '../../../src/platform/csv/read-table.ts';
import { writeTable } from '../../../src/platform/csv/write-table.ts';

const columns = ['code', 'name', 'note'] as const;

/** Reads the cells back as they are. */
function readBack(bytes: Uint8Array) {
  return readTable(bytes, {
    columns,
    rowsMax: 1_000,
    readRow: ({ code = '', name = '', note = '' }) => ({
      outcome: 'read',
      item: [code, name, note],
    }),
  });
}

/** Text that files, spreadsheets and parsers stumble over, and any other text. */
const hostileCell = fc.oneof(
  fc
    .array(
      fc.constantFrom(
        "'",
        '"',
        '""',
        ',',
        ';',
        '\r',
        '\n',
        '\r\n',
        '\t',
        '\0',
        '=',
        '+',
        '-',
        '@',
        ' ',
        '\ufeff',
        '＝',
        '=HYPERLINK("x")',
        'µ',
        '1',
      ),
      { maxLength: 8 },
    )
    .map((pieces) => pieces.join('')),
  fc.string({ unit: 'binary', maxLength: 30 }),
);
const hostileRow = fc.tuple(hostileCell, hostileCell, hostileCell);

describe('a table that is written and read again', () => {
  it('is the same to the letter, whatever its cells hold, but for rows of nothing', () => {
    fc.assert(
      fc.property(fc.array(hostileRow, { maxLength: 6 }), (rows) => {
        const kept = rows.filter((row) => row.some((cell) => cell.trim() !== ''));
        expect(readBack(writeTable(columns, rows))).toEqual({ outcome: 'read', items: kept });
      }),
      { numRuns: 2_000 },
    );
  });

  it('has no cell that a spreadsheet would run, as another reader of CSV sees it', () => {
    fc.assert(
      fc.property(fc.array(hostileRow, { minLength: 1, maxLength: 4 }), (rows) => {
        // The library as it comes, told nothing but that the file has its mark.
        const cells = parse(Buffer.from(writeTable(columns, rows)), { bom: true }).flat();
        for (const cell of cells) expect(cell).not.toMatch(/^[=+\-@\t\r\n\0]/);
      }),
    );
  });

  it('has the same cells for that reader, but for the apostrophes in front of formulas', () => {
    fc.assert(
      fc.property(fc.array(hostileRow, { minLength: 1, maxLength: 4 }), (rows) => {
        const read = parse(Buffer.from(writeTable(columns, rows)), { bom: true });
        expect(read).toEqual([[...columns], ...rows.map((row) => row.map(guardFormula))]);
      }),
    );
  });
});

describe('the file as it stands on the disk', () => {
  // Reckoned by hand from RFC 4180, sections 2.1 to 2.7.
  it('is UTF-8 with its mark, has CR LF at the end of every line, and quotes what needs it', () => {
    const bytes = writeTable(columns, [
      ['A-1', 'Fuse, 3 A', 'says "3"'],
      ['A-2', 'Capacitor 45/5 µF', ''],
      ['A-3', '=1+1', 'two\nlines'],
    ]);
    expect(Buffer.from(bytes).toString('utf8')).toBe(
      '\ufeffcode,name,note\r\n' +
        'A-1,"Fuse, 3 A","says ""3"""\r\n' +
        'A-2,Capacitor 45/5 µF,\r\n' +
        'A-3,\'=1+1,"two\nlines"\r\n',
    );
  });
});

describe('a cell that would start a formula', () => {
  // OWASP, CSV Injection, and OWASP ASVS 5.0, 1.2.10.
  it.each([
    ['=1+1', "'=1+1"],
    ['+1', "'+1"],
    ['-1', "'-1"],
    ['@SUM(1)', "'@SUM(1)"],
    ['\tx', "'\tx"],
    ['\rx', "'\rx"],
    ['\nx', "'\nx"],
    ['\0x', "'\0x"],
    ['＝1', "'＝1"],
    ["'=1", "''=1"],
    ["''=1", "'''=1"],
    ["'s-Hertogenbosch", "'s-Hertogenbosch"],
    ["'", "'"],
    ['a=1', 'a=1'],
    ['', ''],
  ])('%j is written as %j, and comes back as it was', (cell, written) => {
    expect(guardFormula(cell)).toBe(written);
    expect(unguardFormula(written)).toBe(cell);
  });

  it('typed by hand without an apostrophe is read as it stands', () => {
    expect(unguardFormula('=1+1')).toBe('=1+1');
  });

  it('comes back for every string there is, halves of letters included', () => {
    const anyString = fc
      .array(fc.nat({ max: 0xffff }))
      .map((units) => String.fromCharCode(...units));
    fc.assert(
      fc.property(fc.oneof(anyString, hostileCell), (cell) => {
        expect(unguardFormula(guardFormula(cell))).toBe(cell);
      }),
    );
  });
});
