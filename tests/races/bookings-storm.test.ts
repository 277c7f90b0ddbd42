import type { Response } from 'supertest';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { addSite } from '../harness/job.ts';
import { milesOff, openDays } from '../harness/open-days.ts';
import { createTestService, expectStatus, type TestService } from '../harness/test-service.ts';

/** How long; STORM_SECONDS=60 is the long run. */
const SECONDS = Number(process.env['STORM_SECONDS'] ?? 8);
const CLIENTS = 20;
const TICKETS = 60;
/** The last is a quiet one: there a plan is used before the day is another. */
const QUIET = '2026-07-23';
const BUSY = ['2026-07-20', '2026-07-21', '2026-07-22'];
const anyDay = () => (Math.random() < 0.1 ? QUIET : one(BUSY));
const FEE = 8_900;

let service: TestService;
let tickets: string[];
let technicians: string[];

beforeAll(async () => {
  service = await createTestService();
  await openDays(service);
  const { rows } = await service.owner.query(
    `INSERT INTO staff (id, name, role, created_at)
     SELECT gen_random_uuid(), 'Technician ' || n, 'technician', now() FROM generate_series(1, 3) n
     RETURNING id`,
  );
  const added = rows.map(({ id }: { id: string }) => id);
  const weekdays = [1, 2, 3, 4, 5, 6, 7];
  const hours = weekdays.map((weekday) => ({ weekday, startMinute: 480, endMinute: 1_080 }));
  for (const id of added) {
    const week = { validFrom: '2026-01-01', hours };
    const path = `/v1/technicians/${id}/work-weeks`;
    expectStatus(await service.as('owner').post(path, week), 201);
  }
  const { technician, second_technician } = service.staff;
  technicians = [technician.id, second_technician.id, ...added];
  tickets = await openTickets();
}, 120_000);
afterAll(() => service.close());

async function openTickets(): Promise<string[]> {
  const opened: string[] = [];
  for (let at = 0; at < TICKETS; at += 1) {
    const { siteId } = await addSite(service);
    const place = milesOff((at * 7) % 13, -((at * 5) % 17));
    await service.owner.query(
      'UPDATE site SET latitude_deg = $2, longitude_deg = $3 WHERE id = $1',
      [siteId, place.latitudeDeg, place.longitudeDeg],
    );
    // Two of each place, so that trips share a fee.
    for (const complaint of ['It does not cool.', 'It drips.']) {
      if (opened.length >= TICKETS) return opened;
      const ticket = await service.as('dispatcher').post('/v1/tickets', { siteId, complaint });
      opened.push(expectStatus(ticket, 201).body.id);
    }
  }
  return opened;
}

const one = <T>(all: readonly T[]): T => {
  const chosen = all[Math.floor(Math.random() * all.length)];
  if (chosen === undefined) throw new Error('nothing to choose from');
  return chosen;
};

function anyWindow() {
  const start = Date.parse(`${anyDay()}T13:00:00Z`) + 7_200_000 * Math.floor(Math.random() * 4);
  const utc = (at: number) => new Date(at).toISOString();
  return { windowStart: utc(start), windowEnd: utc(start + 7_200_000) };
}

function anyWork({ windowStart }: { windowStart: string }) {
  const quarter = 900_000 * Math.floor(Math.random() * 8);
  const start = new Date(Date.parse(windowStart) + quarter).toISOString();
  return { start, minutes: 30 + 15 * Math.floor(Math.random() * 4) };
}

function told(body: { feeCents?: number; feeAfterDiscountCents?: number } | undefined) {
  return { toldFeeCents: body?.feeCents ?? FEE, agreedBy: 'Winifred Ashgrove' };
}

/** As a person does it: the fee is told again when it is another one. */
async function withFee(send: (feeDisclosure: object) => Promise<Response>): Promise<Response> {
  const first = await send(told(undefined));
  return first.body.code === 'visit-fee-differs' ? send(told(first.body)) : first;
}

async function liveVisit(): Promise<{ id: string; tag: string; visit: Response['body'] }> {
  const state = 'booked,on_the_way,on_site';
  const list = await desk().get(
    `/v1/visits?state=${state}&limit=100&order=${one(['oldest', 'newest'])}`,
  );
  const items = expectStatus(list, 200).body.items;
  if (items.length === 0)
    return { id: '00000000-0000-4000-8000-000000000000', tag: '"v1"', visit: {} };
  const visit = one<Response['body']>(items);
  return { id: visit.id, tag: `"v${visit.version}"`, visit };
}

const desk = () => service.as('dispatcher');

const acts: Record<string, () => Promise<Response>> = {
  book: () => {
    const window = anyWindow();
    const planned = Math.random() < 0.8 ? { planned: anyWork(window) } : {};
    const visit = { ticketId: one(tickets), technicianId: one(technicians), ...window, ...planned };
    return withFee((feeDisclosure) => desk().post('/v1/visits', { ...visit, feeDisclosure }));
  },
  bookOffer: async () => {
    const ticketId = one(tickets);
    const found = await desk().get(
      `/v1/tickets/${ticketId}/windows?from=${anyDay()}&days=1&limit=5`,
    );
    const [offer] = expectStatus(found, 200).body.items;
    if (offer === undefined) return found;
    const { technicianId, windowStart, windowEnd, planned } = offer;
    const visit = { ticketId, technicianId, windowStart, windowEnd, planned };
    const feeDisclosure = told(offer.fee);
    return desk().post('/v1/visits', { ...visit, feeDisclosure });
  },
  reassign: async () => {
    const { id, tag } = await liveVisit();
    const asked = {
      technicianId: one(technicians),
      askedBy: 'company',
      reason: 'Somebody is ill.',
    };
    return desk().post(`/v1/visits/${id}/rebook`, asked, { ifMatch: tag });
  },
  move: async () => {
    const { id, tag } = await liveVisit();
    const window = anyWindow();
    const asked = {
      ...{ ...window, planned: anyWork(window), technicianId: one(technicians) },
      askedBy: one(['company', 'customer']),
      ...{ windowAgreedBy: 'Winifred Ashgrove', reason: 'Another time is better.' },
    };
    const path = `/v1/visits/${id}/rebook`;
    return withFee((feeDisclosure) =>
      desk().post(path, { ...asked, feeDisclosure }, { ifMatch: tag }),
    );
  },
  plan: async () => {
    const { id, tag, visit } = await liveVisit();
    const planned = anyWork({ windowStart: visit.windowStart ?? '2026-07-20T13:00:00Z' });
    return desk().patch(`/v1/visits/${id}/plan`, { planned }, { ifMatch: tag });
  },
  cancel: async () => {
    const { id, tag } = await liveVisit();
    return desk().post(`/v1/visits/${id}/cancel`, { reason: 'Not any more.' }, { ifMatch: tag });
  },
  goOn: async () => {
    const { id, tag, visit } = await liveVisit();
    const [verb, body] =
      visit.state === 'on_site'
        ? ['report-no-access', { reason: 'Nobody opened.' }]
        : [visit.state === 'on_the_way' ? 'arrive' : 'start-travel', {}];
    return desk().post(`/v1/visits/${id}/${verb}`, body, { ifMatch: tag });
  },
  usePlan: async () => {
    const day = one([QUIET, anyDay()]);
    const plan = async () => {
      const proposed = await desk().post(`/v1/days/${day}/plans`);
      if (proposed.status !== 201) return proposed;
      return desk().post(`/v1/day-plans/${proposed.body.id}/use`);
    };
    // Who is told that the day is another one by now has it planned again.
    const first = await plan();
    return first.status === 409 ? plan() : first;
  },
};

const OFTEN = ['book', 'book', 'book', 'bookOffer', 'reassign', 'move', 'plan', 'cancel'];

/** Mostly what a desk does all day, now and then a step of a technician or a whole plan. */
function anyAct(): string {
  const chance = Math.random();
  if (chance < 0.03) return 'usePlan';
  return chance < 0.08 ? 'goOn' : one(OFTEN);
}

it(`${CLIENTS} who book, move, plan and cancel for ${SECONDS} seconds leave a board that is true`, async () => {
  const until = Date.now() + SECONDS * 1_000;
  const counts: Record<string, number> = {};
  const perform = async (name: string) => {
    const answer = await acts[name]?.();
    if (answer === undefined) throw new Error(`there is no act ${name}`);
    // On a machine that is busy with others whoever waits too long for a lock is told so.
    const known = [200, 201, 400, 404, 409, 412, 503];
    expect(known, `${name}: ${answer.text}`).toContain(answer.status);
    const outcome = `${name} ${answer.status < 300 ? 'done' : answer.body.code}`;
    counts[outcome] = (counts[outcome] ?? 0) + 1;
  };
  const client = async () => {
    while (Date.now() < until) await perform(anyAct());
  };
  await Promise.all(Array.from({ length: CLIENTS }, client));
  // What never went through in the throng is done alone, a plan above all: the day has to stand
  // still for one.
  for (const name of Object.keys(acts)) {
    for (let tries = 0; counts[`${name} done`] === undefined; tries += 1) {
      expect(tries, `${name}: ${JSON.stringify(counts)}`).toBeLessThan(50);
      await perform(name);
    }
  }
  for (const [what, sql] of Object.entries(neverThere)) {
    const { rows } = await service.owner.query(sql);
    expect(rows, what).toEqual([]);
  }
}, 600_000);

/** Rows that would be there if the board were not true. */
const neverThere: Record<string, string> = {
  'planned works of one technician that overlap': `
    SELECT a.id, b.id AS other FROM visit a JOIN visit b
      ON a.technician_id = b.technician_id AND a.id < b.id
    WHERE a.state IN ('booked', 'on_the_way', 'on_site')
      AND b.state IN ('booked', 'on_the_way', 'on_site')
      AND tstzrange(coalesce(a.planned_start, a.window_start), coalesce(a.planned_end, a.window_end))
        && tstzrange(coalesce(b.planned_start, b.window_start), coalesce(b.planned_end, b.window_end))`,
  'work planned to begin outside its window': `
    SELECT id FROM visit WHERE planned_start NOT BETWEEN window_start AND window_end`,
  'a move to another window that nobody agreed to, or that costs more without one': `
    SELECT v.id FROM visit v JOIN visit before ON before.id = v.moved_from_id
    WHERE v.window_agreed_by IS NULL
      AND ((v.window_start, v.window_end) <> (before.window_start, before.window_end)
        OR v.fee_cents > before.fee_cents)`,
  'a move that we asked for and that costs more': `
    SELECT v.id FROM visit v JOIN visit before ON before.id = v.moved_from_id
    JOIN journal_entry e ON e.event = 'visit.booked' AND e.subject_id = v.id::text
    WHERE e.changes::json -> 'after' ->> 'askedBy' = 'company' AND v.fee_cents > before.fee_cents`,
  'two fees of one trip that nobody has arrived on': `
    SELECT a.id, b.id AS other FROM visit a JOIN ticket of_a ON of_a.id = a.ticket_id
    JOIN visit b ON b.technician_id = a.technician_id AND b.window_start::date = a.window_start::date
      AND (coalesce(b.planned_start, b.window_start), b.id)
        > (coalesce(a.planned_start, a.window_start), a.id)
    JOIN ticket of_b ON of_b.id = b.ticket_id AND of_b.site_id = of_a.site_id
    WHERE a.state IN ('booked', 'on_the_way') AND b.state IN ('booked', 'on_the_way')
      AND a.fee_cents > 0 AND b.fee_cents > 0
      AND NOT EXISTS (SELECT 1 FROM visit c JOIN ticket t ON t.id = c.ticket_id
        WHERE c.technician_id = a.technician_id AND t.site_id <> of_a.site_id
          AND c.state <> 'cancelled'
          AND coalesce(c.planned_start, c.window_start)
            BETWEEN coalesce(a.planned_start, a.window_start)
              AND coalesce(b.planned_start, b.window_start))`,
  'a visit given up for another that is not cancelled, or of another ticket': `
    SELECT v.id FROM visit v JOIN visit before ON before.id = v.moved_from_id
    WHERE before.state <> 'cancelled' OR before.ticket_id <> v.ticket_id`,
  'a visit that rests on a fee which came to nothing before it began': `
    SELECT v.id FROM visit v JOIN visit a ON a.id = v.same_trip_as
    WHERE a.state = 'cancelled' AND v.state IN ('booked', 'on_the_way', 'on_site')`,
  'a ticket that is otherwise than its visits say': `
    SELECT t.id, t.state, array_agg(v.state) FROM ticket t LEFT JOIN visit v ON v.ticket_id = t.id
    GROUP BY t.id
    HAVING count(*) FILTER (WHERE v.state IN ('booked', 'on_the_way', 'on_site')) > 1
      OR t.state::text <> CASE
        WHEN bool_or(v.state = 'on_site') THEN 'in_progress'
        WHEN bool_or(v.state IN ('booked', 'on_the_way')) THEN 'scheduled'
        ELSE 'new' END`,
  'a visit without the one entry of its booking': `
    SELECT v.id FROM visit v LEFT JOIN journal_entry e
      ON e.event = 'visit.booked' AND e.subject_id = v.id::text
    GROUP BY v.id HAVING count(e.id) <> 1`,
  'a visit with a change that has no entry, or an entry without a change': `
    SELECT v.id, v.version, count(e.id) FROM visit v LEFT JOIN journal_entry e
      ON e.event IN ('visit.moved', 'visit.planned', 'visit.joined') AND e.subject_id = v.id::text
    GROUP BY v.id HAVING count(e.id) <> v.version - 1`,
  'a use of a plan without its entry': `
    SELECT u.day_plan_id FROM day_plan_use u LEFT JOIN journal_entry e
      ON e.event = 'day_plan.used' AND e.subject_id = u.day_plan_id::text
    GROUP BY u.day_plan_id HAVING count(e.id) <> 1`,
  'a deadlock, which a retry would hide': `
    SELECT deadlocks FROM pg_stat_database WHERE datname = current_database() AND deadlocks > 0`,
};
