import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import { sqlOf } from '../platform/database/database.ts';
import { lockRow } from '../platform/database/lock-row.ts';
import { versionTag } from '../platform/http/etag.ts';
import { notFound, ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { erasedCodes, type erasingSchema, type erasureSchema } from './contract.ts';
import { whatStays } from './what-stays.ts';
import { ERASED } from './words.ts';

/**
 * Erases a person: what is personal is overwritten for good, what law and bookkeeping need stays.
 * The tickets are locked first, so that none is reopened meanwhile. What may be overwritten is for
 * the database to say (`erase_person`).
 * @throws ProblemError 404; 412 when somebody else changed the person first; 409 while something
 *   is still open with them, or when they were erased before
 */
export async function erasePerson(
  act: ActContext,
  customerId: string,
  { reason }: z.output<typeof erasingSchema>,
): Promise<z.input<typeof erasureSchema>> {
  const sql = sqlOf(act.tx);
  await sql.query(LOCK_TICKETS, [customerId]);
  await lockRow(act.tx, 'customer', customerId);
  const customer = await act.tx.customer.findUnique({
    where: { id: customerId },
    include: { erasure: true },
  });
  if (customer === null) throw notFound('customer');
  act.mustMatch(versionTag(customer.version));
  if (customer.erasure !== null) throw refusal('erased', 'This person was erased before.', []);
  await refuseWhileBound(act, customerId);
  const id = act.newId();
  const { rows: put } = await sql.query<{ reason: string }>(PUT_ON_RECORD, [
    id,
    customerId,
    reason,
    act.now,
    act.actor.id,
  ]);
  const { rows: counts } = await sql.query<{ code: string; count: number }>(ERASE, [customerId]);
  await appendJournal(act, {
    event: 'customer.erased',
    subject: { kind: 'customer', id: customerId },
    after: { erasureId: id },
  });
  const countOf = (code: string) => counts.find((each) => each.code === code)?.count ?? 0;
  return {
    id,
    customerId,
    reason: put[0]?.reason ?? 'erased',
    erasedAt: act.now.toISOString(),
    erased: erasedCodes.map((code) => ({ code, count: countOf(code), text: ERASED[code] })),
    stays: await whatStays(sql, customerId),
  };
}

async function refuseWhileBound(act: ActContext, customerId: string): Promise<void> {
  const { rows } = await sqlOf(act.tx).query<{ code: string; number: string }>(BONDS, [
    customerId,
    act.now,
  ]);
  if (rows.length === 0) return;
  const told = rows.map(({ code, number }) => `${BOUND_BY[code] ?? code} ${number}`);
  throw refusal('still_needed', `Not yet: ${told.join('; ')}. Finish this first.`, rows);
}

function refusal(currentState: string, detail: string, reasons: readonly object[]): ProblemError {
  return new ProblemError('not-allowed-now', detail, { currentState, allowedActions: [], reasons });
}

const BOUND_BY: Readonly<Record<string, string>> = {
  ticket_open: 'open ticket',
  money_open: 'not settled: invoice',
  not_billed: 'not billed yet: ticket',
  may_still_cancel: 'the customer may still cancel quote',
  agreement_running: 'running maintenance agreement',
  paper_under_way: 'on its way to them: paper',
};

const LOCK_TICKETS = `
  SELECT t.id FROM ticket t JOIN site s ON s.id = t.site_id
  WHERE $1::uuid IN (t.caller_id, s.occupant_id, s.approver_id, s.payer_id)
  ORDER BY t.id FOR NO KEY UPDATE OF t`;

const BONDS = 'SELECT code, number FROM bonds_of($1, $2) ORDER BY code, number';

// A reason that names the person would keep what was to go.
const PUT_ON_RECORD = `
  INSERT INTO person_erasure (id, customer_id, reason, erased_at, erased_by_id)
  VALUES ($1, $2::uuid, without_signs($3, signs_of($2) || words_of($2)), $4, $5) RETURNING reason`;

const ERASE = 'SELECT what AS code, rows::int AS count FROM erase_person($1)';
