import { type FileMistake, type FileMistakes, note } from '../platform/csv/mistakes.ts';
import { readTable } from '../platform/csv/read-table.ts';
import { sqlOf } from '../platform/database/database.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { billFacts } from './bill-facts.ts';
import { type BillFacts, billMistakes } from './bill-mistakes.ts';
import { type FiledBill, gatherBills } from './gather-bills.ts';
import { billColumns, columnOfField, readBillRow } from './read-bill-row.ts';
import { type BillBody, readBills } from './read-bills.ts';
import { recordBills } from './record-bills.ts';

/**
 * Enters every bill of a file, or none of them.
 * @throws ProblemError 400 with every mistake by line and column, 409 when one of the bills is
 *   being entered at this moment by somebody else
 */
export async function loadBills(act: ActContext, file: Uint8Array): Promise<BillBody[]> {
  const table = readTable(file, { columns: billColumns, rowsMax: ROWS_MAX, readRow: readBillRow });
  if (table.outcome === 'refused') throw refusalOf(table);
  const { bills, mistakes } = gatherBills(table.items, await placesByName(act));
  const codes = table.items.flatMap(({ item }) => item.partCode ?? []);
  const facts = await billFacts(act, codes);
  refuseMistakes([
    ...mistakes,
    ...bills.flatMap((filed) => mistakesOf(filed, facts)),
    ...(await enteredBefore(act, bills)),
  ]);
  const ids = await recordBills(
    act,
    bills.map(({ bill }) => bill),
    facts.parts,
  );
  return readBills({ sql: sqlOf(act.tx), actor: act.actor }, ids, facts.priceBookId);
}

/** Months of bills of a small company; a file is one transaction, which has to end in seconds. */
const ROWS_MAX = 2_000;

async function placesByName({ tx }: ActContext): Promise<Map<string, string>> {
  const places = await tx.stockPlace.findMany({ select: { id: true, name: true } });
  return new Map(places.map(({ id, name }) => [name, id]));
}

function mistakesOf({ bill, line, lineOfItem }: FiledBill, facts: BillFacts): FileMistake[] {
  return billMistakes(bill, facts).map(({ line: item, field, message }) => ({
    line: item === undefined ? line : (lineOfItem[item] ?? line),
    column: columnOfField[field],
    message,
  }));
}

async function enteredBefore(
  { tx }: ActContext,
  bills: readonly FiledBill[],
): Promise<FileMistake[]> {
  const heads = bills.map(({ line, bill: { supplier, number } }) => ({ line, supplier, number }));
  const found = await sqlOf(tx).query<{ line: number }>(ENTERED, [JSON.stringify(heads)]);
  const message = 'This supplier’s bill of that number has been recorded already.';
  return found.rows.map(({ line }) => ({ line, column: 'number', message }));
}

function refuseMistakes(mistakes: readonly FileMistake[]): void {
  const found: FileMistakes = { mistakes: [], more: 0 };
  for (const mistake of [...mistakes].sort((a, b) => a.line - b.line)) note(found, mistake);
  if (mistakes.length > 0) throw refusalOf(found);
}

function refusalOf({ mistakes, more }: FileMistakes): ProblemError {
  return new ProblemError('file-has-mistakes', 'No bill of this file was taken.', {
    mistakes,
    more,
  });
}

const ENTERED = `
  SELECT head.line FROM json_to_recordset($1::json) AS head (line int, supplier text, number text)
  JOIN supplier_bill b ON lower(b.supplier) = lower(head.supplier) AND b.number = head.number`;
