import { z } from 'zod';
import { readDollars } from '../platform/csv/read-dollars.ts';
import type { Cells, RowReading } from '../platform/csv/read-table.ts';
import { cents, day, text } from '../platform/http/formats.ts';
import { plainWords } from '../platform/plain-words.ts';
import { dollarsText } from '../pricing/index.ts';
import { type BillContent, billContentSchema } from './contract.ts';
import { clockText, minutesBetween, readClock } from './read-clock.ts';
import { readPartsCell } from './read-parts-cell.ts';

/** The columns of a file of bills: a row for each bill. */
export const billColumns = [
  'date',
  'technician',
  'complaint',
  'found',
  'done',
  'parts',
  'hours',
  'arrived',
  'left',
  'fee',
  'labor',
  'tax',
  'charged',
] as const;
type Column = (typeof billColumns)[number];

/** One bill out of a file. */
export interface FiledBill {
  /** Of the file, on which it begins. */
  line: number;
  billedOn: string;
  content: BillContent;
  chargedCents: number;
}

/**
 * Reads a row cell by cell. Only the day and what was charged must be there; what a bill does not
 * say is left empty and not known.
 * @param today on the company's calendar: no bill is of a day to come
 */
export function readBillRow(cells: Cells, line: number, today: string): RowReading<FiledBill> {
  const row = rowSchema.safeParse(filledIn(cells), { error: plainWords });
  if (!row.success) return { outcome: 'refused', mistakes: row.error.issues.map(mistakeOf) };
  const { date, charged, technician, complaint, found, done, fee, labor, tax, ...rest } = row.data;
  const content: BillContent = {
    technician: technician ?? null,
    complaint: complaint ?? '',
    found: found ?? '',
    done: done ?? '',
    parts: rest.parts ?? [],
    hours: rest.hours ?? null,
    arrived: clockOrNull(rest.arrived),
    left: clockOrNull(rest.left),
    feeCents: fee ?? null,
    laborCents: labor ?? null,
    taxCents: tax ?? null,
  };
  const mistakes = [
    ...(date > today ? [{ column: 'date', message: 'is in the future' }] : []),
    ...clockMistakes(rest.arrived, rest.left),
    ...sumMistakes(content, charged),
  ];
  if (mistakes.length > 0) return { outcome: 'refused', mistakes };
  return { outcome: 'read', item: { line, billedOn: date, content, chargedCents: charged } };
}

function filledIn(cells: Cells): Partial<Record<Column, string>> {
  return Object.fromEntries(
    Object.entries(cells)
      .map(([column, cell]) => [column, cell.trim()])
      .filter(([, cell]) => cell !== ''),
  );
}

function mistakeOf({ path: [column], message }: z.core.$ZodIssue) {
  return { column: String(column), message };
}

function clockOrNull(minutes: number | undefined): string | null {
  return minutes === undefined ? null : clockText(minutes);
}

function clockMistakes(arrived: number | undefined, left: number | undefined) {
  if (arrived === undefined || left === undefined) return [];
  if (minutesBetween(arrived, left) !== undefined) return [];
  return [{ column: 'left', message: 'is before arriving, or more than twelve hours after' }];
}

/** What a bill is told apart into is in what it charged. */
function sumMistakes({ feeCents, laborCents, taxCents, parts }: BillContent, charged: number) {
  const told = [feeCents, laborCents, taxCents, ...parts.map(({ chargedCents }) => chargedCents)];
  const sum = told.reduce<number>((all, each) => all + (each ?? 0), 0);
  if (sum <= charged) return [];
  const message = `is ${dollarsText(sum - charged)} less than fee, labor, parts and tax come to`;
  return [{ column: 'charged', message }];
}

/** Dollars as bills and spreadsheets write them: 12.34, $1,234.50. */
const dollars = z
  .string()
  .transform((cell, context) => {
    const amountCents = readDollars(cell);
    if (amountCents !== undefined) return amountCents;
    context.addIssue('is not an amount in dollars such as 12.34');
    return z.NEVER;
  })
  .pipe(cents);

/** A day as 2026-07-15, or as spreadsheets in the United States write it: 7/15/2026. */
const writtenDay = z
  .string()
  .transform((cell) => {
    const [, month = '', date = '', year] = /^(\d{1,2})\/(\d{1,2})\/(\d{4})$/.exec(cell) ?? [];
    if (year === undefined) return cell;
    return `${year}-${month.padStart(2, '0')}-${date.padStart(2, '0')}`;
  })
  .pipe(day);

const clock = z.string().transform((cell, context) => {
  const minutes = readClock(cell);
  if (minutes !== undefined) return minutes;
  context.addIssue('is not a time of day such as 9:05 or 1:30 pm');
  return z.NEVER;
});

const parts = z
  .string()
  .transform((cell, context) => {
    const read = readPartsCell(cell);
    if ('parts' in read) return read.parts;
    context.addIssue('has an entry that is not "name x quantity @ cost = charged"');
    return z.NEVER;
  })
  .pipe(billContentSchema.shape.parts);

const rowSchema = z.strictObject({
  date: writtenDay,
  technician: text(120).optional(),
  complaint: text(2_000).optional(),
  found: text(2_000).optional(),
  done: text(2_000).optional(),
  parts: parts.optional(),
  hours: z
    .string()
    .transform((cell) => (cell.startsWith('.') ? `0${cell}` : cell))
    .pipe(billContentSchema.shape.hours.unwrap())
    .optional(),
  arrived: clock.optional(),
  left: clock.optional(),
  fee: dollars.optional(),
  labor: dollars.optional(),
  tax: dollars.optional(),
  charged: dollars,
});
