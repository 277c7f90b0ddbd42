import type { z } from 'zod';
import { companyOf, localDay } from '../company/index.ts';
import { appendJournal } from '../journal/index.ts';
import { readTable } from '../platform/csv/read-table.ts';
import { sqlOf } from '../platform/database/database.ts';
import type { BillImport } from '../platform/database/generated/client.ts';
import { isTaken } from '../platform/database/violation.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { sha256 } from '../platform/sha256.ts';
import { bookInForce } from '../pricebook/index.ts';
import type { newImportQuery } from './contract.ts';
import { billColumns, readBillRow } from './read-bill-row.ts';

/**
 * Takes in every bill of a file, or none of them. A file is taken in once: what it says would count
 * twice. Its bills are judged when somebody looks: ten thousand take longer than a transaction may.
 * @throws ProblemError 400 with every mistake by line and column; 409 for a file that was taken in
 *   before, and when no price book is in force
 */
export async function importBills(
  act: ActContext,
  { origin, fileName }: z.output<typeof newImportQuery>,
  file: Uint8Array,
): Promise<BillImport> {
  const { timeZone } = await companyOf(act.tx);
  const today = localDay(act.now, timeZone);
  const table = readTable(file, {
    columns: billColumns,
    rowsMax: ROWS_MAX,
    readRow: (cells, line) => readBillRow(cells, line, today),
  });
  if (table.outcome === 'refused') {
    const { mistakes, more } = table;
    throw new ProblemError('file-has-mistakes', 'No bill of this file was taken.', {
      mistakes,
      more,
    });
  }
  const { items } = table;
  if (items.length === 0) throw new ProblemError('file-has-mistakes', NO_BILLS, onlyHeader);
  const { id: priceBookId } = await bookInForce(act.tx, act.now);
  const row = await insertImport(act, {
    id: act.newId(),
    fileName,
    sha256: sha256(file),
    origin,
    rowCount: items.length,
    importedAt: act.now,
    importedById: act.actor.id,
  });
  const bills = items.map((item) => ({ id: act.newId(), ...item }));
  await sqlOf(act.tx).query(INSERT, [row.id, priceBookId, JSON.stringify(bills)]);
  await appendJournal(act, {
    event: 'bill_import.taken_in',
    subject: { kind: 'bill_import', id: row.id },
    after: { origin, billCount: row.rowCount, fileSha256: row.sha256 },
  });
  return row;
}

/** Years of bills of a small company; a file is one transaction, which has to end in seconds. */
const ROWS_MAX = 10_000;
const NO_BILLS = 'There is no bill in this file.';
const onlyHeader = {
  mistakes: [{ line: 1, column: null, message: 'The file has no row below its header.' }],
  more: 0,
};

// Two who send one file at once both find no other; the unique index lets one of them in.
async function insertImport({ tx }: ActContext, data: BillImport): Promise<BillImport> {
  try {
    return await tx.billImport.create({ data });
  } catch (error) {
    if (!isTaken(error)) throw error;
    throw new ProblemError('already-exists', 'This very file has been taken in already.');
  }
}

// By no rules yet, so that whoever looks first has them judged.
const INSERT = `
  INSERT INTO imported_bill (id, import_id, "row", billed_on, content, charged_cents, judgement,
    flag_count, over_cents, ruleset_version, price_book_version_id)
  SELECT id, $1, line, "billedOn", content, "chargedCents", '{}', 0, 0, 'none', $2
  FROM json_to_recordset($3::json) AS bill (id uuid, line int, "billedOn" date, content json,
    "chargedCents" int)`;
