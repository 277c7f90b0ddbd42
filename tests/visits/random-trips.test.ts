import fc from 'fast-check';
import { afterAll, beforeAll, beforeEach, expect, it } from 'vitest';
import { addSite } from '../harness/job.ts';
import { createTestService, expectStatus, type TestService } from '../harness/test-service.ts';

/** How many random days; RUNS=100 is the long run. */
const RUNS = Number(process.env['RUNS'] ?? 4);
const ACTS = 30;
const HOUR = 3_600_000;
/** By the invented company. */
const ZONE = 'America/Chicago';

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
});
beforeEach(() => service.clock.set('2026-07-14T18:00:00Z'));
afterAll(() => service.close());

/** What anybody at the desk may do; numbers choose among what there is. */
const act = fc.record({
  verb: fc.oneof(
    { weight: 6, arbitrary: fc.constant('book') },
    { weight: 8, arbitrary: fc.constant('plan') },
    { weight: 3, arbitrary: fc.constant('move') },
    { weight: 2, arbitrary: fc.constant('give') },
    { weight: 1, arbitrary: fc.constant('cancel') },
  ),
  ticket: fc.nat(5),
  /** Mostly one of them, so that there is a crowd. */
  technician: fc.constantFrom(0, 0, 0, 0, 1),
  /** From six in the evening until after midnight. */
  window: fc.nat(3),
  hour: fc.nat(3),
  askedBy: fc.constantFrom<'customer' | 'company'>('customer', 'company'),
});
/** First everybody is booked somewhere, as far as there is room. */
const night = fc
  .tuple(
    fc.array(act, { minLength: 6, maxLength: 6 }),
    fc.array(act, { minLength: ACTS, maxLength: ACTS }),
  )
  .map(([first, then]) => [
    ...first.map((each, ticket) => ({ ...each, ticket, verb: 'book' as const })),
    ...then,
  ]);
type Act = typeof act extends fc.Arbitrary<infer Each> ? Each : never;

interface Day {
  /** When the first window begins. */
  from: number;
  tickets: string[];
  technicians: string[];
}

let days = 0;

/** Six tickets of two sites, and a night of its own. */
async function anotherDay(): Promise<Day> {
  const from = Date.parse('2026-08-04T23:00:00Z') + days * 7 * 24 * HOUR;
  days += 1;
  const tickets: string[] = [];
  const sites = [await addSite(service), await addSite(service)];
  for (const { siteId } of [...sites, ...sites, ...sites]) {
    const body = { siteId, complaint: 'It does not cool.' };
    const opened = await service.as('dispatcher').post('/v1/tickets', body);
    tickets.push(expectStatus(opened, 201).body.id);
  }
  const { technician, second_technician } = service.staff;
  return { from, tickets, technicians: [technician.id, second_technician.id] };
}

const utc = (at: number) => new Date(at).toISOString();

/** A window of four hours, so that neighbors overlap, and an hour of work in it. */
function timesOf({ from }: Day, { window, hour }: Act) {
  const start = from + window * 2 * HOUR;
  return {
    window: { windowStart: utc(start), windowEnd: utc(start + 4 * HOUR) },
    planned: (windowStart = start) => ({ start: utc(windowStart + hour * HOUR), minutes: 60 }),
  };
}

interface Live {
  id: string;
  ticketId: string;
  siteId: string;
  technicianId: string;
  windowStart: Date;
  windowEnd: Date;
  start: Date;
  feeCents: number;
  sameTripAs: string | null;
  version: number;
}

async function liveOf({ tickets }: Day): Promise<Live[]> {
  const { rows } = await service.owner.query<Live>(
    `SELECT v.id, v.ticket_id AS "ticketId", t.site_id AS "siteId",
       v.technician_id AS "technicianId", v.window_start AS "windowStart",
       v.window_end AS "windowEnd", coalesce(v.planned_start, v.window_start) AS start,
       v.fee_cents AS "feeCents", v.same_trip_as AS "sameTripAs", v.version
     FROM visit v JOIN ticket t ON t.id = v.ticket_id
     WHERE v.ticket_id = ANY ($1) AND v.state = 'booked'`,
    [tickets],
  );
  return rows;
}

/** Sends what is asked; whoever is told another fee says yes to it. */
async function send(path: string, body: object, toldFee: boolean, version = 1) {
  const told = (toldFeeCents: number) =>
    toldFee ? { feeDisclosure: { toldFeeCents, agreedBy: 'Winifred Ashgrove' } } : {};
  const post = (fee: number) =>
    service.as('dispatcher').post(path, { ...body, ...told(fee) }, { ifMatch: `"v${version}"` });
  const first = await post(0);
  return first.body.code === 'visit-fee-differs' ? post(first.body.feeCents) : first;
}

/** Does it, or is refused: what matters is what there is afterwards. */
async function perform(day: Day, each: Act): Promise<number> {
  const ticketId = day.tickets[each.ticket];
  const technicianId = day.technicians[each.technician];
  const { window, planned } = timesOf(day, each);
  const visit = (await liveOf(day)).find((live) => live.ticketId === ticketId);
  if (each.verb === 'book') {
    const booking = { ticketId, technicianId, ...window, planned: planned() };
    return (await send('/v1/visits', booking, true)).status;
  }
  if (visit === undefined) return 404;
  const { id, version } = visit;
  const reason = 'It was said by phone.';
  if (each.verb === 'cancel') {
    return (await send(`/v1/visits/${id}/cancel`, { reason }, false, version)).status;
  }
  if (each.verb === 'plan') {
    const body = { planned: planned(visit.windowStart.getTime()) };
    const path = `/v1/visits/${id}/plan`;
    return (await service.as('dispatcher').patch(path, body, { ifMatch: `"v${version}"` })).status;
  }
  const { askedBy } = each;
  const asked = { technicianId, askedBy, reason };
  const path = `/v1/visits/${id}/rebook`;
  if (each.verb === 'give') return (await send(path, asked, false, version)).status;
  const other = { ...window, planned: planned(), windowAgreedBy: 'Winifred Ashgrove' };
  return (await send(path, { ...asked, ...other }, true, version)).status;
}

const localDay = (instant: Date) =>
  new Intl.DateTimeFormat('en-CA', { timeZone: ZONE, dateStyle: 'short' }).format(instant);

/** One trip of two visits, as a person reads it off the board. */
function isOneTrip(one: Live, other: Live, all: readonly Live[]): boolean {
  if (one.technicianId !== other.technicianId || one.siteId !== other.siteId) return false;
  const sameDay = localDay(one.windowStart) === localDay(other.windowStart);
  const goesOn = one.windowStart <= other.windowEnd && other.windowStart <= one.windowEnd;
  const [from, to] = one.start < other.start ? [one.start, other.start] : [other.start, one.start];
  const elsewhere = all.some(
    ({ technicianId, siteId, start }) =>
      technicianId === one.technicianId && siteId !== one.siteId && start > from && start < to,
  );
  return (sameDay || goesOn) && !elsewhere;
}

/** No two of one trip are charged, and whoever rests on a fee rests on one that is there. */
function holdsOf(all: readonly Live[]): void {
  const withFee = all.filter(({ feeCents }) => feeCents > 0);
  for (const one of withFee) {
    for (const other of withFee) {
      if (one.id !== other.id) expect(isOneTrip(one, other, all), 'two fees of a trip').toBe(false);
    }
  }
  for (const { sameTripAs, feeCents, siteId, technicianId } of all) {
    if (sameTripAs === null) continue;
    expect(feeCents).toBe(0);
    const fee = { siteId, technicianId, sameTripAs: null };
    expect(all.find(({ id }) => id === sameTripAs)).toMatchObject(fee);
  }
}

/** Whose fee is higher than before has asked for another window. */
function noneRose(before: readonly Live[], after: readonly Live[], day: Day, each: Act): void {
  for (const { ticketId, feeCents, windowStart } of after) {
    const was = before.find((live) => live.ticketId === ticketId);
    const isOther = was?.windowStart.getTime() !== windowStart.getTime();
    const asks = each.verb === 'move' && each.askedBy === 'customer' && isOther;
    if (was === undefined || (asks && ticketId === day.tickets[each.ticket])) continue;
    expect(feeCents, each.verb).toBeLessThanOrEqual(was.feeCents);
  }
}

it('of random bookings, plans, moves and gifts no trip has two fees, and no fee rises unasked', async () => {
  const done: Record<string, number> = {};
  await fc.assert(
    fc.asyncProperty(night, async (acts) => {
      const day = await anotherDay();
      let before: Live[] = [];
      for (const each of acts) {
        const status = await perform(day, each);
        expect([200, 201, 400, 404, 409]).toContain(status);
        if (status < 300) done[each.verb] = (done[each.verb] ?? 0) + 1;
        const after = await liveOf(day);
        holdsOf(after);
        noneRose(before, after, day, each);
        before = after;
      }
    }),
    { numRuns: RUNS, endOnFailure: true },
  );
  expect(Object.keys(done).sort()).toEqual(['book', 'cancel', 'give', 'move', 'plan']);
}, 900_000);
