import { appendJournal } from '../journal/index.ts';
import { sqlOf } from '../platform/database/database.ts';
import { violationOf } from '../platform/database/violation.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { addMoves } from './add-moves.ts';
import type { BillFacts } from './bill-mistakes.ts';
import type { NewBill } from './contract.ts';

/**
 * Records bills that have been checked: each with its lines, and what came of known parts counted
 * up at its place, or down where it went back.
 * @returns their identifiers in the order given
 * @throws ProblemError 409 when a bill of the same supplier and number has been recorded
 */
export async function recordBills(
  act: ActContext,
  given: readonly NewBill[],
  parts: BillFacts['parts'],
): Promise<string[]> {
  const bills = (await withKnownSuppliers(act, given)).map((bill) => ({
    ...bill,
    id: act.newId(),
  }));
  await insertBills(act, bills);
  await insertLines(act, bills, parts);
  await addMoves(
    act,
    bills.flatMap((bill) => movesOf(act, bill)),
  );
  for (const { id, supplier, number, billedOn, placeId, lines, otherCents, totalCents } of bills) {
    await appendJournal(act, {
      event: 'supplier_bill.recorded',
      subject: { kind: 'supplier_bill', id },
      after: {
        supplier,
        number,
        billedOn,
        placeId,
        lineCount: lines.length,
        otherCents,
        totalCents,
      },
    });
  }
  return bills.map(({ id }) => id);
}

type BillWithId = NewBill & { id: string };

// One supplier has one name in lists and filters: it is spelled as at first.
async function withKnownSuppliers(
  { tx }: ActContext,
  bills: readonly NewBill[],
): Promise<NewBill[]> {
  const names = [...new Set(bills.map(({ supplier }) => supplier.toLowerCase()))];
  const found = await sqlOf(tx).query<{ spelling: string; name: string }>(SPELLINGS, [names]);
  const spellings = new Map(found.rows.map(({ name, spelling }) => [name, spelling]));
  return bills.map((bill) => {
    const name = bill.supplier.toLowerCase();
    const supplier = spellings.get(name) ?? bill.supplier;
    spellings.set(name, supplier);
    return { ...bill, supplier };
  });
}

// Two of one number at once both find none; the unique index, which knows no capitals, lets one of
// them in. Bills go in by that index, so that two who load the same ones wait for each other and
// never in a circle.
async function insertBills(act: ActContext, bills: readonly BillWithId[]): Promise<void> {
  try {
    await sqlOf(act.tx).query(INSERT_BILLS, [JSON.stringify(bills), act.now, act.actor.id]);
  } catch (error) {
    if (violationOf(error)?.constraint !== 'supplier_bill_number_key') throw error;
    throw new ProblemError(
      'already-exists',
      bills.length === 1
        ? 'This supplier’s bill of that number has been recorded already.'
        : 'One of these bills has been recorded already, or stands here twice.',
    );
  }
}

async function insertLines(
  { tx }: ActContext,
  bills: readonly BillWithId[],
  parts: BillFacts['parts'],
): Promise<void> {
  const lines = bills.flatMap((bill) =>
    bill.lines.map((line, at) => ({
      ...line,
      billId: bill.id,
      position: at + 1,
      description: line.description ?? parts.get(line.partCode ?? '')?.name,
    })),
  );
  await sqlOf(tx).query(INSERT_LINES, [JSON.stringify(lines)]);
}

function movesOf(act: ActContext, { id: billId, placeId, lines }: BillWithId) {
  return lines.flatMap(({ partCode, quantity }, at) => {
    if (partCode === undefined) return [];
    const billed = { kind: 'billed', billId, billPosition: at + 1 } as const;
    return [{ ...billed, id: act.newId(), placeId, partCode, quantity }];
  });
}

const SPELLINGS = `
  SELECT DISTINCT ON (lower(supplier)) supplier AS spelling, lower(supplier) AS name
  FROM supplier_bill WHERE lower(supplier) = ANY ($1) ORDER BY lower(supplier), id`;

const INSERT_BILLS = `
  INSERT INTO supplier_bill (id, supplier, number, billed_on, place_id, line_count, other_cents,
    total_cents, recorded_at, recorded_by_id)
  SELECT id, supplier, number, "billedOn", "placeId", json_array_length(lines), "otherCents",
    "totalCents", $2, $3
  FROM json_to_recordset($1::json) AS bill (
    id uuid, supplier text, number text, "billedOn" date, "placeId" uuid, lines json,
    "otherCents" int, "totalCents" int)
  ORDER BY lower(supplier), number`;

const INSERT_LINES = `
  INSERT INTO supplier_bill_line (bill_id, position, part_code, description, quantity, amount_cents)
  SELECT "billId", position, "partCode", description, quantity, "amountCents"
  FROM json_to_recordset($1::json) AS line (
    "billId" uuid, position int, "partCode" text, description text, quantity numeric,
    "amountCents" int)`;
