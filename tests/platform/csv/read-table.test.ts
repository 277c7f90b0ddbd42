import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readTable } from '../../../src/platform/csv/read-table.ts';

const MIB = 1024 * 1024;

/** Reads a file of two columns whose amounts are digits. */
function read(file: string | Uint8Array, rowsMax = 1_000) {
  return readTable(typeof file === 'string' ? Buffer.from(file) : file, {
    columns: ['code', 'amount'],
    rowsMax,
    keyColumn: 'code',
    readRow: ({ code = '', amount = '' }) =>
      /^\d+$/.test(amount)
        ? { outcome: 'read', item: `${code}=${amount}` }
        : { outcome: 'refused', mistakes: [{ column: 'amount', message: 'no digits' }] },
  });
}

function mistakesIn(file: string | Uint8Array, rowsMax?: number) {
  const reading = read(file, rowsMax);
  return reading.outcome === 'read' ? [] : reading.mistakes;
}

describe('a file is read', () => {
  const items = ['a=1', 'b=2'];
  it.each([
    ['with LF at the end of lines', 'code,amount\na,1\nb,2\n'],
    ['with CR LF', 'code,amount\r\na,1\r\nb,2\r\n'],
    ['with both, as two programs left it', 'code,amount\r\na,1\nb,2\r\n'],
    ['without an end of its last line', 'code,amount\na,1\nb,2'],
    ['with the mark of UTF-8', '\ufeffcode,amount\na,1\nb,2\n'],
    ['with its columns in another order', 'amount,code\n1,a\n2,b\n'],
    ['with spaces around the names of columns', ' code , amount\na,1\nb,2\n'],
    ['with everything in quotation marks', '"code","amount"\r\n"a","1"\r\n"b","2"\r\n'],
    [
      'with empty lines and rows that a spreadsheet left behind',
      'code,amount\n\na,1\n,\nb,2\n,\n\n',
    ],
  ])('%s', (_, file) => {
    expect(read(file)).toEqual({ outcome: 'read', items });
  });

  it('with line breaks and quotation marks within a cell', () => {
    const file = 'code,amount\n"two\r\nlines, ""quoted""",1\n';
    expect(read(file)).toEqual({ outcome: 'read', items: ['two\r\nlines, "quoted"=1'] });
  });

  it('of a header alone, as a table without rows', () => {
    expect(read('code,amount\n')).toEqual({ outcome: 'read', items: [] });
  });
});

describe('every mistake is named by its line in the file and its column', () => {
  it('also after cells with line breaks, of either kind, and after empty lines', () => {
    const file = 'code,amount\r\n"a\r\nb\nc",1\r\n\r\nd,x\r\n"e\r\n",y\r\nf,z';
    expect(mistakesIn(file)).toEqual([
      { line: 6, column: 'amount', message: 'no digits' },
      { line: 7, column: 'amount', message: 'no digits' },
      { line: 9, column: 'amount', message: 'no digits' },
    ]);
  });

  it('at the line that an editor shows, wherever the row stands', () => {
    const cell = fc.constantFrom('x', '"p\nq"', '"p\r\nq"', '"\n\n"', '"\r\n\r\n"', '""');
    const rows = fc.array(fc.tuple(cell, fc.constantFrom('\n', '\r\n', '\n\n', '\r\n\r\n')));
    fc.assert(
      fc.property(rows, (before) => {
        const start = `code,amount\n${before.map(([text, end]) => `${text},bad${end}`).join('')}`;
        const lastLine = start.split('\n').length;
        const last = mistakesIn(`${start}last,bad`).filter(({ line }) => line === lastLine);
        expect(last).toEqual([{ line: lastLine, column: 'amount', message: 'no digits' }]);
      }),
    );
  });

  it('for a row with too few or too many cells', () => {
    expect(mistakesIn('code,amount\na\nb,1,2\n')).toEqual([
      { line: 2, column: null, message: 'The row has 1 cell, the header 2.' },
      { line: 3, column: null, message: 'The row has 3 cells, the header 2.' },
    ]);
  });

  it('for a key that stands twice, with where it stood first', () => {
    expect(mistakesIn('code,amount\na,1\nb,2\na,3\n')).toEqual([
      { line: 4, column: 'code', message: 'stands on line 2 too' },
    ]);
  });

  it('for a key that stands twice with spaces around it, as what it is without them', () => {
    expect(mistakesIn('code,amount\na,1\n"b\nb",2\n" a\t",3\na ,x\n')).toEqual([
      { line: 5, column: 'code', message: 'stands on line 2 too' },
      { line: 6, column: 'amount', message: 'no digits' },
      { line: 6, column: 'code', message: 'stands on line 2 too' },
    ]);
  });

  it('up to a hundred; of the rest it is said how many there are', () => {
    const rows = Array.from({ length: 250 }, (_, at) => `c${at},bad`).join('\n');
    const reading = read(`code,amount\n${rows}`);
    expect(reading).toMatchObject({ outcome: 'refused', more: 150 });
    expect(mistakesIn(`code,amount\n${rows}`)).toHaveLength(100);
  });
});

describe('a header that is not the wanted one', () => {
  it.each([
    ['an unknown column', 'code,amount,colour\n', 'colour', /no column of this file: code, amount/],
    ['a missing column', 'code\n', 'amount', /missing/],
    ['a column twice', 'code,amount,code\n', 'code', /twice/],
    ['a name in other letters', 'Code,amount\n', 'Code', /no column of this file/],
  ])('is refused by name: %s', (_, file, column, message) => {
    expect(mistakesIn(file)).toContainEqual({
      line: 1,
      column,
      message: expect.stringMatching(message),
    });
  });

  it.each([
    ['semicolons', 'code;amount\na;1\n'],
    ['semicolons', '\ufeff"code";"amount"\r\n"a";"1"\r\n'],
    ['tabs', 'code\tamount\na\t1\n'],
  ])('because its columns are separated by %s, is told how to save it', (separator, file) => {
    const message = `The columns are separated by ${separator}. Save the file with commas between them.`;
    expect(mistakesIn(file)).toEqual([{ line: 1, column: null, message }]);
  });

  it('is shown shortened and without what is no text', () => {
    const [mistake] = mistakesIn(`\u0007${'x'.repeat(1_000)},amount\n`);
    expect(mistake?.column).toBe(`\ufffd${'x'.repeat(39)}`);
  });
});

describe('what is no such file', () => {
  it.each([
    ['nothing', '', /empty: its first line has to name the columns/],
    ['empty lines', '\n\r\n\n', /empty/],
    ['text of an old code page', Buffer.from('code,amount\n\xb5,1\n', 'latin1'), /not UTF-8/],
    ['UTF-16 with its mark', Buffer.from('\ufeffcode,amount\na,1\n', 'utf16le'), /not UTF-8/],
    ['a zipped spreadsheet', Buffer.from('504b0304140006000800000021b4c3f2', 'hex'), /not UTF-8/],
    ['a quotation mark never closed', 'code,amount\na,1\n"b,2\n', /never closes/],
    ['a quotation mark out of place', 'code,amount\na,1\nb"c,2\n', /is doubled/],
    ['more behind a closed quotation mark', 'code,amount\na,1\n"b"c,2\n', /is doubled/],
  ])('is refused: %s', (_, file, message) => {
    const [mistake, ...others] = mistakesIn(file);
    expect(mistake?.message).toMatch(message);
    expect(mistake?.column).toBeNull();
    expect(others).toEqual([]);
  });

  it('names the line on which the broken row begins', () => {
    expect(mistakesIn('code,amount\r\n"a\r\na",1\r\n"b,2\r\n')[0]?.line).toBe(4);
    expect(mistakesIn('code,amount\r\n"a\r\na",1\r\nb"c,2\r\n')[0]?.line).toBe(4);
  });

  it('has more rows than it may have', () => {
    const message = 'The file has more than 3 rows.';
    expect(mistakesIn('code,amount\na,1\nb,2\nc,3\nd,4\n', 3)).toEqual([
      { line: 1, column: null, message },
    ]);
    expect(mistakesIn('code,amount\na,1\nb,2\nc,3\n', 3)).toEqual([]);
  });

  it('is not one that has empty rows among those it may have, wherever they stand', () => {
    const blank = [',', ' , ', '\t,', '\u00a0,""', '" \r\n ",', "'\t,", ',,,', ''];
    const withBlanks = ['a,1', 'b,2', 'c,3'].flatMap((row) => [...blank, row, ...blank]);
    const file = (rows: string[]) => [...blank, 'code,amount', ...rows].join('\n');
    expect(read(file(withBlanks), 3)).toEqual({ outcome: 'read', items: ['a=1', 'b=2', 'c=3'] });
    expect(mistakesIn(file([...withBlanks, 'd,4', ...blank]), 3)).toEqual([
      { line: 1, column: null, message: 'The file has more than 3 rows.' },
    ]);
  });

  it('has rows behind so many empty ones that nobody means them', () => {
    const blank = (rows: number) => ',\n'.repeat(rows);
    const message = 'The file has 100,000 empty rows or more. Delete them and save it again.';
    expect(read(`code,amount\na,1\n${blank(99_999)}b,2\n`, 3)).toEqual({
      outcome: 'read',
      items: ['a=1', 'b=2'],
    });
    expect(mistakesIn(`code,amount\na,1\n${blank(100_000)}b,2\n`, 3)).toEqual([
      { line: 1, column: null, message },
    ]);
  });

  it.each([
    ['commas alone', Buffer.alloc(10 * MIB, ',')],
    ['NUL bytes alone', Buffer.alloc(10 * MIB)],
    ['line ends alone', Buffer.alloc(10 * MIB, '\n')],
    ['empty rows alone', Buffer.alloc(10 * MIB, ' ,\n')],
    ['quotation marks alone', Buffer.alloc(10 * MIB, '"')],
    ['one huge cell', Buffer.concat([Buffer.from('code,amount\na,'), Buffer.alloc(10 * MIB, 'x')])],
    ['an endless row', Buffer.concat([Buffer.from('code,amount\n'), Buffer.alloc(10 * MIB, ',')])],
    ['100,000 rows', Buffer.from(`code,amount\n${'a,1\n'.repeat(100_000)}`)],
  ])('is refused in a few words, however large it is: %s', (_, file) => {
    const mistakes = mistakesIn(file);
    expect(mistakes.length).toBeGreaterThan(0);
    expect(JSON.stringify(mistakes).length).toBeLessThan(1_000);
  });

  it('never throws, whatever the bytes are', () => {
    const anyBytes = fc.uint8Array({ maxLength: 200 });
    const nearly = fc
      .array(fc.constantFrom('code', 'amount', ',', '\n', '\r\n', '"', 'a', '1', '\0', '\ufeff'))
      .map((pieces) => Buffer.from(`code,amount\n${pieces.join('')}`));
    fc.assert(
      fc.property(fc.oneof(anyBytes, nearly), (bytes) => {
        expect(['read', 'refused']).toContain(read(bytes).outcome);
      }),
    );
  });
});
