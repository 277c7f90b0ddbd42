import { describe, expect, it } from 'vitest';
import { billColumns, readBillRow } from '../../src/imported-bills/read-bill-row.ts';
import { clockText, minutesBetween, readClock } from '../../src/imported-bills/read-clock.ts';
import { readPartsCell } from '../../src/imported-bills/read-parts-cell.ts';
import { readTable } from '../../src/platform/csv/read-table.ts';

const empty = Object.fromEntries(billColumns.map((column) => [column, '']));
const today = '2026-07-14';

function read(cells: Record<string, string>) {
  return readBillRow({ ...empty, date: '2025-07-03', charged: '700', ...cells }, 2, today);
}

describe('a row of a file of bills', () => {
  it('says what it says, to the cent', () => {
    const row = read({
      date: '7/3/2025',
      technician: ' Rowan ',
      complaint: 'No cooling',
      found: 'weak capacitor',
      done: 'replaced capacitor',
      parts: 'Capacitor 45/5 x 1 @ 18.40 = $55.20; wire nuts',
      hours: '.75',
      arrived: '9:05 am',
      left: '10:20',
      fee: '89',
      labor: '$1,113.25',
      tax: '0',
      charged: '1,257.45',
    });
    expect(row).toEqual({
      outcome: 'read',
      item: {
        line: 2,
        billedOn: '2025-07-03',
        chargedCents: 125_745,
        content: {
          technician: 'Rowan',
          complaint: 'No cooling',
          found: 'weak capacitor',
          done: 'replaced capacitor',
          parts: [
            { name: 'Capacitor 45/5', quantity: 1, unitCostCents: 1_840, chargedCents: 5_520 },
            { name: 'wire nuts', quantity: 1 },
          ],
          hours: '0.75',
          arrived: '09:05',
          left: '10:20',
          feeCents: 8_900,
          laborCents: 111_325,
          taxCents: 0,
        },
      },
    });
  });

  it('needs a day and an amount; what is empty is not known', () => {
    expect(read({})).toMatchObject({
      item: {
        content: {
          technician: null,
          done: '',
          parts: [],
          hours: null,
          arrived: null,
          feeCents: null,
          taxCents: null,
        },
      },
    });
    expect(read({ date: '', charged: '' })).toEqual({
      outcome: 'refused',
      mistakes: [
        { column: 'date', message: 'is missing' },
        { column: 'charged', message: 'is missing' },
      ],
    });
  });

  it.each([
    [{ date: '2025-02-30' }, 'date'],
    [{ date: '2026-07-15' }, 'date'],
    [{ charged: 'about 700' }, 'charged'],
    [{ charged: '-700' }, 'charged'],
    [{ charged: '20000000.01' }, 'charged'],
    [{ charged: '7.005' }, 'charged'],
    [{ tax: 'none' }, 'tax'],
    [{ hours: '1h' }, 'hours'],
    [{ arrived: '25:00' }, 'arrived'],
    [{ left: '9' }, 'left'],
    [{ arrived: '10:00', left: '9:00' }, 'left'],
    [{ parts: 'capacitor @ cheap' }, 'parts'],
    [{ parts: 'capacitor x 0' }, 'parts'],
    [{ parts: 'capa\u0000citor' }, 'parts'],
    [{ done: 'x'.repeat(2_001) }, 'done'],
    [{ fee: '89', labor: '612' }, 'charged'],
  ])('names the column that is wrong: %j', (cells, column) => {
    expect(read(cells)).toMatchObject({ outcome: 'refused', mistakes: [{ column }] });
  });

  it('says by how much a bill is less than what it is told apart into', () => {
    const row = read({ fee: '89', labor: '500', parts: 'capacitor = 120', tax: '1.01' });
    expect(row).toEqual({
      outcome: 'refused',
      mistakes: [
        { column: 'charged', message: 'is $10.01 less than fee, labor, parts and tax come to' },
      ],
    });
  });

  it('takes off the apostrophe that keeps a spreadsheet from running a cell', () => {
    const file = [billColumns.join(), "2025-07-03,,,,'-replaced capacitor,,,,,,,,700"].join('\r\n');
    const table = readTable(Buffer.from(file), {
      columns: billColumns,
      rowsMax: 10,
      readRow: (cells, line) => readBillRow(cells, line, today),
    });
    expect(table).toMatchObject({ items: [{ line: 2, content: { done: '-replaced capacitor' } }] });
  });
});

describe('the parts of a bill in one cell', () => {
  it.each([
    ['', []],
    ['contactor', [{ name: 'contactor', quantity: 1 }]],
    ['contactor x 2', [{ name: 'contactor', quantity: 2 }]],
    ['Filter 16x25x1 x 2 = 30', [{ name: 'Filter 16x25x1', quantity: 2, chargedCents: 3_000 }]],
    ['R-410A x 2.5 @ 12.40', [{ name: 'R-410A', quantity: 2.5, unitCostCents: 1_240 }]],
    [
      'a @1 =2 ; ; b × 3',
      [
        { name: 'a', quantity: 1, unitCostCents: 100, chargedCents: 200 },
        { name: 'b', quantity: 3 },
      ],
    ],
  ])('%s', (cell, parts) => {
    expect(readPartsCell(cell)).toEqual({ parts });
  });

  it.each(['contactor =', '@ 12', 'x = 1 = 2', 'fuse @ 1.234', 'fuse x 0'])(
    'refuses what is no entry: %s',
    (cell) => {
      expect(readPartsCell(cell)).toEqual({ unread: cell });
    },
  );
});

describe('times of day', () => {
  it.each([
    ['9:05', 545],
    ['09:05', 545],
    ['9:05 am', 545],
    ['12:00 AM', 0],
    ['12:30 pm', 750],
    ['1:30 p.m.', 810],
    ['23:59', 1_439],
    ['24:00', undefined],
    ['9:60', undefined],
    ['13:00 pm', undefined],
    ['0:30 am', undefined],
    ['nine', undefined],
  ])('%s', (cell, minutes) => {
    expect(readClock(cell)).toBe(minutes);
    if (minutes !== undefined) expect(readClock(clockText(minutes))).toBe(minutes);
  });

  it('go past midnight, but for no more than twelve hours', () => {
    expect(minutesBetween(540, 615)).toBe(75);
    expect(minutesBetween(1_380, 60)).toBe(120);
    expect(minutesBetween(600, 540)).toBeUndefined();
    expect(minutesBetween(540, 540)).toBe(0);
  });
});
