import { randomUUID } from 'node:crypto';
import { outdoorPlate } from './job.ts';

/** One request of a job over HTTP; a write has a key, so that it can be sent again. */
export interface Step {
  method: 'GET' | 'POST';
  path: string;
  headers: Record<string, string>;
  body?: object;
  kind: 'read' | 'write';
}

/** What the next step needs of the answer to the last. */
export interface StepAnswer {
  etag: string | undefined;
  // What the contract says of it is checked elsewhere; here it is passed on.
  body: Record<string, unknown>;
}

/** Who takes the calls and who may do what technicians do, and whom they send. */
export interface Office {
  tokens: { dispatcher: string; owner: string };
  technicianIds: readonly string[];
}

/**
 * From the call of somebody new to the issued quote: fourteen requests. What technicians do is sent as
 * the owner, who may do it at every visit.
 * @param at which job it is: no two of one number, and each is at a time and a home of its own
 */
export function* stepsOfJob(
  { tokens, technicianIds }: Office,
  at: number,
): Generator<Step, void, StepAnswer> {
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
