import { randomUUID } from 'node:crypto';
import { type Random, randomFor } from '../../../seed/big-company/random.ts';
import { outdoorPlate } from '../../harness/job.ts';

/** A request of somebody at work. */
export interface Asked {
  method: 'GET' | 'POST';
  path: string;
  headers: Record<string, string>;
  body?: object;
  kind: 'read' | 'write';
  /** What follows from the answer; the one who asked asks nothing else before. */
  onAnswer(answer: Answer): void;
}

export interface Answer {
  etag: string | undefined;
  // What the contract says of it is checked elsewhere; here it is passed on.
  body: Record<string, unknown>;
}

/** What there is to be looked at, and who looks. */
export interface Known {
  tokens: { dispatcher: string; owner: string };
  technicianIds: readonly string[];
  ticketIds: readonly string[];
  siteIds: readonly string[];
  quoteIds: readonly string[];
  /** What callers are looked for by: parts of names, ends of phone numbers. */
  searches: readonly string[];
  /** Days with visits on the board. */
  days: readonly string[];
}

/** Of ten requests, about this many change something. */
const WRITES_OF_TEN = 3;

/**
 * The requests of an office at work, one after another: people look up callers, tickets, sites,
 * quotes and the board, and beside that jobs are taken from the call to the issued quote.
 * @returns gives the next request; whoever has been asked nothing yet begins a new job
 */
export function trafficOf(known: Known, seed: number): () => Asked {
  const random = randomFor(seed, 'load', 0);
  const idle: Job[] = [];
  let begun = 0;
  return () => {
    if (random.int(1, 10) > WRITES_OF_TEN) return lookUp(known, random);
    const job = idle.shift() ?? newJob(known, begun++);
    return { ...job.next, onAnswer: (answer) => job.go(answer) && idle.push(job) };
  };
}

function lookUp(known: Known, random: Random): Asked {
  const ways = [
    `/v1/customers?search=${encodeURIComponent(one(known.searches, random))}`,
    `/v1/tickets/${one(known.ticketIds, random)}`,
    `/v1/tickets?siteId=${one(known.siteIds, random)}`,
    `/v1/sites/${one(known.siteIds, random)}`,
    `/v1/quotes/${one(known.quoteIds, random)}`,
    `/v1/board?day=${one(known.days, random)}`,
    '/v1/waiting',
  ];
  const headers = { authorization: `Bearer ${known.tokens.dispatcher}` };
  return {
    method: 'GET',
    path: one(ways, random),
    headers,
    kind: 'read',
    onAnswer: () => undefined,
  };
}

function one<T>(from: readonly T[], random: Random): T {
  const found = from[random.int(0, from.length - 1)];
  if (found === undefined) throw new Error('there is nothing to look at');
  return found;
}

type Step = Omit<Asked, 'onAnswer'>;

interface Job {
  next: Step;
  /** @returns whether it goes on */
  go(answer: Answer): boolean;
}

function newJob(known: Known, at: number): Job {
  const steps = stepsOfJob(known, at);
  const begin = steps.next();
  if (begin.done === true) throw new Error('a job has steps');
  const job: Job = {
    next: begin.value,
    go: (answer) => {
      const step = steps.next(answer);
      if (step.done === true) return false;
      job.next = step.value;
      return true;
    },
  };
  return job;
}

/**
 * From the call of somebody new to the issued quote: fourteen requests. What technicians do is sent as
 * the owner, who may do it at every visit.
 */
function* stepsOfJob({ tokens, technicianIds }: Known, at: number): Generator<Step, void, Answer> {
  const office = (path: string, body: object) => post(tokens.dispatcher, path, body);
  const field = (path: string, body: object, ifMatch?: string) =>
    post(tokens.owner, path, body, ifMatch);
  const customer = yield office('/v1/customers', {
    ...{ name: `Perpetua Load ${at}`, phone: `555-01${String(at % 100).padStart(2, '0')}` },
  });
  const site = yield office('/v1/sites', {
    ...{ street: `${at} Thistle Court`, city: 'Wrenfield', region: 'QX', postalCode: '00000' },
    occupantId: customer.body['id'],
  });
  const siteId = String(site.body['id']);
  const system = yield office(`/v1/sites/${siteId}/systems`, { name: 'Main floor' });
  const outdoor = yield office(`/v1/systems/${system.body['id']}/equipment`, {
    ...{ kind: 'condensing_unit', nameplate: outdoorPlate },
  });
  const ticket = yield office('/v1/tickets', {
    ...{ siteId, complaint: 'It blows warm air.', symptoms: ['no_cooling'] },
  });
  const window = windowOf(Math.floor(at / technicianIds.length));
  const asked = new URLSearchParams({ ...window, siteId });
  const fee = yield get(tokens.dispatcher, `/v1/visit-fee?${asked}`);
  const visit = yield office('/v1/visits', {
    ...{ ticketId: ticket.body['id'], technicianId: technicianIds[at % technicianIds.length] },
    ...window,
    feeDisclosure: { toldFeeCents: fee.body['feeCents'], agreedBy: 'Perpetua Load' },
  });
  const path = `/v1/visits/${visit.body['id']}`;
  const onTheWay = yield field(`${path}/start-travel`, {}, visit.etag);
  yield field(`${path}/arrive`, {}, onTheWay.etag);
  const equipmentId = outdoor.body['id'];
  const clamp = { equipmentId, point: 'capacitor_herm', method: 'clamp_meter' };
  yield field(`${path}/readings`, {
    readings: [
      { ...clamp, quantity: 'current', value: 4.1, unit: 'A' },
      { ...clamp, quantity: 'voltage', value: 352, unit: 'V' },
    ],
  });
  const finding = yield field(`${path}/findings`, {
    ...{ equipmentId, faultCode: 'run_capacitor_herm', taskCode: 'replace_dual_run_capacitor' },
    parts: [{ partCode: 'CAP-45-5-440', quantity: 1 }],
  });
  const quote = yield field('/v1/quotes', {
    visitId: visit.body['id'],
    options: [{ title: 'Repair', findingIds: [finding.body['id']] }],
  });
  yield field(`/v1/quotes/${quote.body['id']}/issue`, {}, quote.etag);
}

function post(token: string, path: string, body: object, ifMatch?: string): Step {
  const headers = {
    authorization: `Bearer ${token}`,
    'content-type': 'application/json',
    'idempotency-key': randomUUID(),
    ...(ifMatch !== undefined && { 'if-match': ifMatch }),
  };
  return { method: 'POST', path, headers, body, kind: 'write' };
}

function get(token: string, path: string): Step {
  return { method: 'GET', path, headers: { authorization: `Bearer ${token}` }, kind: 'read' };
}

const WINDOWS_A_DAY = 4;
const DAY_MS = 86_400_000;

/** Four windows on every weekday from some weeks ahead, so that no two jobs want the same one. */
function windowOf(at: number): { windowStart: string; windowEnd: string } {
  const weekday = Math.floor(at / WINDOWS_A_DAY);
  const day = firstMonday() + (Math.floor(weekday / 5) * 7 + (weekday % 5)) * DAY_MS;
  // Regular hours of the invented company, which is five or six hours behind.
  const startMs = day + (15 + 2 * (at % WINDOWS_A_DAY)) * 3_600_000;
  const iso = (ms: number) => new Date(ms).toISOString();
  return { windowStart: iso(startMs), windowEnd: iso(startMs + 2 * 3_600_000) };
}

function firstMonday(): number {
  const today = Math.floor(Date.now() / DAY_MS);
  // Day 0 of the count, 1970-01-01, was a Thursday.
  return (today - ((today + 3) % 7) + 28) * DAY_MS;
}
