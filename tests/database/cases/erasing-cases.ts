import { erased, erasureRow, goneRow, leaving } from '../erasing-rows.ts';
import { check, type GuardCase } from '../guard-case.ts';
import { ids, type Row, type Statement, sql } from '../rows.ts';
import { signed } from './record-cases.ts';

const takesEffect = { sqlState: check, constraint: 'person_erasure_takes_effect' };
const erasing = (change: Row = {}): Statement[] => [goneRow(), erasureRow(change)];

/** Guards of the erasing of a person. */
export const erasingCases: GuardCase[] = [
  {
    title: 'nobody is erased without a reason',
    guard: 'person_erasure_reason_given',
    sqlState: check,
    breaks: erasing({ reason: ' ' }),
    allows: [erasing()],
  },
  {
    title: 'nobody is erased while a ticket or money is open with them',
    guard: 'person_erasure_nothing_open',
    sqlState: check,
    breaks: [erasureRow({ customer_id: ids.customer })],
    allows: [erasing()],
    secondLine: takesEffect,
  },
  {
    title: 'an erasure on record has erased',
    guard: 'person_erasure_takes_effect',
    sqlState: check,
    breaks: [goneRow({ name: 'Winifred Ashgrove' }), erasureRow()],
    allows: [erasing()],
  },
  {
    title: 'nobody is written into the row of somebody who was erased',
    guard: 'customer_stays_erased',
    sqlState: check,
    breaks: [sql(`UPDATE customer SET name = 'Somebody' WHERE id = $1`, [erased])],
    allows: [[sql(`UPDATE customer SET name = 'Somebody' WHERE id = $1`, [ids.customer])]],
  },
  signed(
    'person_erasure_erased_by_fkey',
    (change) => erasureRow({ customer_id: leaving, ...change }),
    'erased_by_id',
  ),
];
