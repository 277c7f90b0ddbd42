import { z } from 'zod';
import { readDollars } from '../platform/csv/read-dollars.ts';
import type { Cells, RowReading } from '../platform/csv/read-table.ts';
import { day, signedCents } from '../platform/http/formats.ts';
import { plainWords } from '../platform/plain-words.ts';
import { type NewBill, newBillLineSchema, newBillSchema, newPlaceSchema } from './contract.ts';

/** The columns of a file of bills: a row for each line, with the head of its bill on it. */
export const billColumns = [
  'supplier',
  'number',
  'billed_on',
  'place',
  'part_code',
  'description',
  'quantity',
  'amount',
  'other_charges',
  'total',
] as const;
export type BillColumn = (typeof billColumns)[number];

/** A row of a file of bills: the cells of the bill's head, and one line of it. */
export interface BillRow {
  /** Of the file. */
  line: number;
  head: z.output<typeof headSchema>;
  item: NewBill['lines'][number];
}

/** Reads a row cell by cell, by the rules of a bill that is entered by hand. */
export function readBillRow(cells: Cells, line: number): RowReading<BillRow> {
  const given: Partial<Record<BillColumn, string>> = Object.fromEntries(
    Object.entries(cells)
      .map(([column, cell]) => [column, cell.trim()])
      .filter(([, cell]) => cell !== ''),
  );
  const { part_code: partCode, description, quantity, amount, ...rest } = given;
  const words = { error: plainWords };
  const head = headSchema.safeParse(rest, words);
  const amountCents = dollars.safeParse(amount, words);
  const item = newBillLineSchema.safeParse(
    { partCode, description, quantity, amountCents: amountCents.data ?? 0 },
    words,
  );
  if (head.success && amountCents.success && item.success) {
    return { outcome: 'read', item: { line, head: head.data, item: item.data } };
  }
  return {
    outcome: 'refused',
    mistakes: [
      ...mistakesIn(head.error),
      ...mistakesIn(item.error),
      ...mistakesIn(amountCents.error, 'amount'),
    ],
  };
}

/** The column of a file in which a field of a line stands. */
export const columnOfField = {
  partCode: 'part_code',
  description: 'description',
  quantity: 'quantity',
  amountCents: 'amount',
  billedOn: 'billed_on',
  totalCents: 'total',
} as const satisfies Record<string, BillColumn>;

function mistakesIn(error: z.ZodError | undefined, column?: BillColumn) {
  return (error?.issues ?? []).map(({ path: [field = ''], message }) => ({
    column: column ?? columnOf(String(field)),
    message,
  }));
}

function columnOf(field: string): string {
  return field in columnOfField ? columnOfField[field as keyof typeof columnOfField] : field;
}

/** Dollars as bills and spreadsheets write them: 12.34, -12, $1,234.50. */
const dollars = z
  .string()
  .transform((text, context) => {
    const amountCents = readDollars(text, { signed: true });
    if (amountCents !== undefined) return amountCents;
    context.addIssue('is not an amount in dollars such as 12.34');
    return z.NEVER;
  })
  .pipe(signedCents);

/** A day as 2026-07-15, or as spreadsheets in the United States write it: 7/15/2026. */
const writtenDay = z
  .string()
  .transform((text) => {
    const [, month = '', date = '', year] = /^(\d{1,2})\/(\d{1,2})\/(\d{4})$/.exec(text) ?? [];
    if (year === undefined) return text;
    return `${year}-${month.padStart(2, '0')}-${date.padStart(2, '0')}`;
  })
  .pipe(day);

/** What stands once for a whole bill may be left out of its later rows. */
const headSchema = z.strictObject({
  supplier: newBillSchema.shape.supplier,
  number: newBillSchema.shape.number,
  billed_on: writtenDay.optional(),
  place: newPlaceSchema.shape.name.optional(),
  other_charges: dollars.optional(),
  total: dollars.optional(),
});
