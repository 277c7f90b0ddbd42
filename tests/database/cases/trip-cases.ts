import { check, foreignKey, type GuardCase } from '../guard-case.ts';
import { id, ids, type Row, type Statement, siteRow, sql, ticketRow, visitRow } from '../rows.ts';

const FEE = id(1_401);
const TRIP = id(1_402);

/** The visit whose fee is that of the trip, at nine in the morning of the company. */
const withFee = (change: Row = {}): Statement =>
  visitRow({
    ...{ id: FEE, window_start: '2026-07-20T14:00:00Z', window_end: '2026-07-20T16:00:00Z' },
    ...change,
  });

/** Another visit of the same trip. */
const sameTrip = (change: Row = {}): Statement =>
  visitRow({
    ...{ id: TRIP, ticket_id: ids.otherTicket, same_trip_as: FEE, fee_cents: 0 },
    ...{ window_start: '2026-07-20T16:00:00Z', window_end: '2026-07-20T18:00:00Z' },
    ...change,
  });

function visitIs(visit: string, state: string): Statement {
  return sql(
    `UPDATE visit SET state = $2::visit_state, arrived_at = '2026-07-20T16:05:00Z'
     WHERE id = $1`,
    [visit, state],
  );
}

const elsewhere = [siteRow(), ticketRow({ site_id: id(18) })];

/** Guards of the one fee of a trip. */
export const tripCases: GuardCase[] = [
  ...[
    { fee_cents: 1 },
    { purpose: 'return' },
    { purpose: 'callback' },
    { fee_agreement: '{}' },
  ].map((change) => ({
    title: `one trip has one fee: not with ${JSON.stringify(change)}`,
    guard: 'visit_same_trip_without_fee',
    sqlState: check,
    breaks: [withFee(), sameTrip(change)],
    allows: [
      [withFee(), sameTrip()],
      [withFee(), sameTrip({ same_trip_as: null, fee_cents: 8_900 })],
    ],
  })),
  ...[
    { how: 'of another technician', change: { technician_id: ids.otherTechnician } },
    {
      how: 'of the next day',
      change: { window_start: '2026-07-21T05:00:00Z', window_end: '2026-07-21T06:00:00Z' },
    },
    { how: 'to another site', before: elsewhere, change: { ticket_id: id(39) } },
  ].map(({ how, before = [], change }) => ({
    title: `a visit is not of the same trip as one ${how}`,
    guard: 'visit_same_trip_as_one_that_stands',
    sqlState: check,
    breaks: [withFee(), ...before, sameTrip(change)],
    allows: [
      [withFee(), sameTrip()],
      [withFee(), sameTrip({ ticket_id: ids.ticket })],
      [
        withFee(),
        sameTrip({ window_start: '2026-07-21T04:59:00Z', window_end: '2026-07-21T06:00:00Z' }),
      ],
    ],
  })),
  ...[
    { how: 'was cancelled', before: [withFee({ state: 'cancelled' })] },
    { how: 'had no access', before: [withFee({ state: 'no_access' })] },
    { how: 'came back for free', before: [withFee({ purpose: 'return', fee_cents: 0 })] },
    {
      how: 'has no fee of its own either',
      before: [
        withFee({ id: id(1_403), window_end: '2026-07-20T15:00:00Z' }),
        withFee({
          ...{ fee_cents: 0, same_trip_as: id(1_403), window_start: '2026-07-20T15:00:00Z' },
        }),
      ],
    },
  ].map(({ how, before }) => ({
    title: `the fee of a trip is not with a visit that ${how}`,
    guard: 'visit_same_trip_as_one_that_stands',
    sqlState: check,
    breaks: [...before, sameTrip()],
    allows: ['booked', 'on_the_way', 'on_site', 'finished'].map((state) => [
      withFee({ state, arrived_at: '2026-07-20T14:05:00Z' }),
      sameTrip(),
    ]),
  })),
  {
    title: 'nor with one that is not there',
    guard: 'visit_same_trip_as_one_that_stands',
    sqlState: check,
    breaks: [sameTrip({ same_trip_as: ids.nobody })],
    allows: [[withFee(), sameTrip()]],
    secondLine: { sqlState: foreignKey, constraint: 'visit_same_trip_as_fkey' },
  },
  {
    title: 'the visit with the fee of a trip is there',
    guard: 'visit_same_trip_as_fkey',
    behind: ['visit_same_trip_as_one_that_stands'],
    sqlState: foreignKey,
    breaks: [sameTrip({ same_trip_as: ids.nobody })],
    allows: [[withFee(), sameTrip()]],
  },
  ...['booked', 'on_the_way', 'on_site', 'finished'].map((state) => ({
    title: `a visit is not cancelled while one that is ${state} rests on its fee`,
    guard: 'visit_trip_has_its_fee',
    sqlState: check,
    breaks: [withFee(), sameTrip(), visitIs(TRIP, state), visitIs(FEE, 'cancelled')],
    allows: ['cancelled', 'no_access'].map((gone) => [
      ...[withFee(), sameTrip(), visitIs(TRIP, gone)],
      visitIs(FEE, 'cancelled'),
    ]),
  })),
  ...['on_site', 'finished'].map((state) => ({
    title: `where somebody was let in on the trip, its fee is not lost: ${state}`,
    guard: 'visit_trip_has_its_fee',
    sqlState: check,
    breaks: [withFee(), sameTrip(), visitIs(TRIP, state), visitIs(FEE, 'no_access')],
    allows: [
      [withFee(), sameTrip(), visitIs(TRIP, state), visitIs(FEE, 'finished')],
      [withFee(), sameTrip(), visitIs(FEE, 'no_access')],
    ],
  })),
  ...['on_the_way', 'on_site', 'finished'].map((state) => ({
    title: `nobody sets out for a visit whose fee has come to nothing: ${state}`,
    guard: 'visit_trip_has_its_fee',
    sqlState: check,
    breaks: [withFee(), sameTrip(), visitIs(FEE, 'no_access'), visitIs(TRIP, state)],
    allows: [
      [withFee(), sameTrip(), visitIs(FEE, 'no_access'), visitIs(TRIP, 'cancelled')],
      [withFee(), sameTrip(), visitIs(FEE, 'finished'), visitIs(TRIP, state)],
    ],
  })),
];
