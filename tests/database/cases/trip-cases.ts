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

const companyIn = (zone: string): Statement => sql('UPDATE company SET time_zone = $1', [zone]);

const window = (window_start: string, window_end: string) => ({ window_start, window_end });

/** Nights at one site: of the visit with the fee, of one that goes on from it, of one that does not. */
const nights = [
  {
    how: 'in July',
    zone: 'America/Chicago',
    first: window('2026-07-21T03:00:00Z', '2026-07-21T05:00:00Z'),
    goesOn: window('2026-07-21T05:00:00Z', '2026-07-21T07:00:00Z'),
    apart: window('2026-07-21T05:01:00Z', '2026-07-21T07:00:00Z'),
  },
  {
    how: 'that loses an hour',
    zone: 'America/Chicago',
    // Midnight is at six; at eight it is three o'clock.
    first: window('2027-03-14T04:00:00Z', '2027-03-14T06:00:00Z'),
    goesOn: {
      ...window('2027-03-14T05:30:00Z', '2027-03-14T09:00:00Z'),
      ...{ planned_start: '2027-03-14T08:00:00Z', planned_end: '2027-03-14T09:00:00Z' },
    },
    apart: window('2027-03-14T08:00:00Z', '2027-03-14T09:00:00Z'),
  },
  {
    how: 'that has an hour twice',
    zone: 'America/Chicago',
    // The first of November is from five to six of the next day.
    first: window('2026-11-01T05:00:00Z', '2026-11-01T06:00:00Z'),
    goesOn: window('2026-11-02T05:30:00Z', '2026-11-02T05:59:00Z'),
    apart: window('2026-11-02T06:00:00Z', '2026-11-02T07:00:00Z'),
  },
  {
    how: 'that has an hour twice, going on before it',
    zone: 'America/Chicago',
    first: window('2026-11-01T05:00:00Z', '2026-11-01T07:30:00Z'),
    goesOn: window('2026-11-01T03:00:00Z', '2026-11-01T05:00:00Z'),
    apart: window('2026-11-01T03:00:00Z', '2026-11-01T04:59:00Z'),
  },
  {
    how: 'at the other end of the world',
    zone: 'Pacific/Auckland',
    // Midnight is at noon, so one day of the server's is two there.
    first: window('2026-07-20T10:00:00Z', '2026-07-20T12:00:00Z'),
    goesOn: window('2026-07-20T12:00:00Z', '2026-07-20T14:00:00Z'),
    apart: window('2026-07-20T12:30:00Z', '2026-07-20T14:00:00Z'),
  },
];

const untilMidnight = window('2026-07-21T03:00:00Z', '2026-07-21T05:00:00Z');
const fromMidnight = window('2026-07-21T05:00:00Z', '2026-07-21T07:00:00Z');
const atTwo = window('2026-07-21T07:00:00Z', '2026-07-21T08:00:00Z');

const THIRD = id(1_404);
const OWN = id(1_405);
const LEFT = id(1_406);
const AFTER = id(1_407);

/** A call that was told a fee of its own. */
const own = (change: Row = {}): Statement =>
  sameTrip({ id: OWN, same_trip_as: null, fee_cents: 8_900, ...change });

const restsOn = (visit: string, fee: string | null): Statement =>
  sql('UPDATE visit SET same_trip_as = $2 WHERE id = $1', [visit, fee]);

/** One that was on the trip, and that we moved out of it. */
const movedOut = (change: Row = {}): Statement[] => [
  sameTrip({ id: LEFT, state: 'cancelled', end_note: 'Moved.' }),
  sameTrip({
    ...{ same_trip_as: null, moved_from_id: LEFT, move_asked_by: 'company' },
    ...{ technician_id: ids.otherTechnician, ...change },
  }),
];

const elsewhere = [siteRow(), ticketRow({ site_id: id(18) })];

/** After all others of the day. */
function late() {
  return window('2026-07-20T18:00:00Z', '2026-07-20T20:00:00Z');
}

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
  ...nights.map(({ how, zone, first, goesOn, apart }) => ({
    title: `a trip goes on over midnight where one window does: a night ${how}`,
    guard: 'visit_same_trip_as_one_that_stands',
    sqlState: check,
    breaks: [companyIn(zone), withFee(first), sameTrip(apart)],
    allows: [[companyIn(zone), withFee(first), sameTrip(goesOn)]],
  })),
  {
    title: 'a visit goes on from any other of the trip, not only from the one with the fee',
    guard: 'visit_same_trip_as_one_that_stands',
    sqlState: check,
    breaks: [withFee(untilMidnight), sameTrip({ id: THIRD, ...atTwo })],
    allows: [[withFee(untilMidnight), sameTrip(fromMidnight), sameTrip({ id: THIRD, ...atTwo })]],
  },
  {
    title: 'whoever rests on a fee that is booked anew goes along, and nobody else',
    guard: 'visit_same_trip_as_one_that_stands',
    sqlState: check,
    breaks: [
      withFee({ state: 'cancelled', end_note: 'Moved.' }),
      withFee({
        ...{ id: THIRD, moved_from_id: FEE, move_asked_by: 'customer' },
        ...{ window_agreed_by: 'W', technician_id: ids.otherTechnician },
        ...window('2026-08-20T14:00:00Z', '2026-08-20T16:00:00Z'),
      }),
      sameTrip({ same_trip_as: THIRD, technician_id: ids.otherTechnician }),
    ],
    allows: [
      [
        ...[withFee(), sameTrip(), visitIs(TRIP, 'cancelled'), visitIs(FEE, 'cancelled')],
        withFee({
          ...{ id: THIRD, moved_from_id: FEE, move_asked_by: 'company' },
          technician_id: ids.otherTechnician,
        }),
        sameTrip({
          ...{ id: AFTER, moved_from_id: TRIP, move_asked_by: 'company' },
          ...{ same_trip_as: THIRD, technician_id: ids.otherTechnician },
        }),
      ],
    ],
  },
  // ------------------------------------------------------------ two trips that become one
  ...[
    { how: 'no fee is put on again', breaks: [sameTrip(), restsOn(TRIP, null)] },
    {
      how: 'not once somebody is on site',
      breaks: [own({ state: 'on_site', arrived_at: '2026-07-20T16:05:00Z' }), restsOn(OWN, FEE)],
      secondLine: { sqlState: check, constraint: 'visit_same_trip_without_fee' },
    },
    {
      how: 'not once it is over',
      breaks: [own({ state: 'no_access' }), restsOn(OWN, FEE)],
      secondLine: { sqlState: check, constraint: 'visit_same_trip_without_fee' },
    },
  ].map(({ how, breaks, secondLine }) => ({
    title: `the fee of a visit is taken off where it joins a trip: ${how}`,
    guard: 'visit_fee_only_taken_off',
    sqlState: check,
    breaks: [withFee(), ...breaks],
    allows: ['booked', 'on_the_way'].map((state) => [
      ...[withFee(), own({ state, fee_agreement: '{}' }), restsOn(OWN, FEE)],
    ]),
    secondLine: secondLine ?? { sqlState: check, constraint: 'visit_joins_a_trip_that_stands' },
  })),
  ...[
    { how: 'of another technician', before: [own({ technician_id: ids.otherTechnician })] },
    {
      how: 'of the next day',
      before: [own(window('2026-07-21T05:00:00Z', '2026-07-21T06:00:00Z'))],
    },
    { how: 'to another site', before: [...elsewhere, own({ ticket_id: id(39) })] },
    { how: 'while others rest on it', before: [own(), sameTrip({ same_trip_as: OWN, ...late() })] },
    { how: 'of one that was cancelled', before: [own(), visitIs(FEE, 'cancelled')] },
  ].map(({ how, before }) => ({
    title: `a visit does not join the trip ${how}`,
    guard: 'visit_joins_a_trip_that_stands',
    sqlState: check,
    breaks: [withFee(), ...before, restsOn(OWN, FEE)],
    allows: [
      [withFee(), own(), restsOn(OWN, FEE)],
      [
        ...[withFee(), own(), sameTrip({ same_trip_as: OWN, ...late() })],
        sql('UPDATE visit SET same_trip_as = $1 WHERE $2 IN (id, same_trip_as)', [FEE, OWN]),
      ],
    ],
  })),
  // ------------------------------------------------------------ moved out without a fee
  {
    title: 'nobody sets out for a visit whose fee has come to nothing, though it was moved out',
    guard: 'visit_trip_has_its_fee',
    sqlState: check,
    breaks: [withFee(), ...movedOut(), visitIs(FEE, 'no_access'), visitIs(TRIP, 'on_the_way')],
    allows: [
      [withFee(), ...movedOut(), visitIs(FEE, 'finished'), visitIs(TRIP, 'on_the_way')],
      [withFee(), ...movedOut(), visitIs(FEE, 'no_access'), visitIs(TRIP, 'cancelled')],
      // Who has set out is not turned back by what happens at somebody else's door.
      [
        ...[withFee(), ...movedOut(), visitIs(TRIP, 'on_the_way'), visitIs(FEE, 'no_access')],
        ...[visitIs(TRIP, 'on_site'), visitIs(TRIP, 'finished')],
      ],
    ],
  },
  ...['booked', 'on_the_way', 'on_site', 'finished'].map((state) => ({
    title: `a visit is not cancelled while its fee covers one that was moved out and is ${state}`,
    guard: 'visit_covers_who_was_moved',
    sqlState: check,
    breaks: [withFee(), ...movedOut(), visitIs(TRIP, state), visitIs(FEE, 'cancelled')],
    allows: [
      [withFee(), ...movedOut(), visitIs(TRIP, 'cancelled'), visitIs(FEE, 'cancelled')],
      // Another in its place covers it.
      [
        ...[withFee(), ...movedOut(), visitIs(TRIP, state), visitIs(FEE, 'cancelled')],
        withFee({ id: THIRD, moved_from_id: FEE, move_asked_by: 'company' }),
      ],
    ],
  })),
  {
    title: 'nor is the one in its place',
    guard: 'visit_covers_who_was_moved',
    sqlState: check,
    breaks: [
      ...[withFee(), ...movedOut(), visitIs(FEE, 'cancelled')],
      withFee({ id: THIRD, moved_from_id: FEE, move_asked_by: 'company' }),
      visitIs(THIRD, 'cancelled'),
    ],
    allows: [[withFee(), own(), visitIs(FEE, 'cancelled')]],
  },
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
