import type { Response } from 'supertest';
import { afterAll, vi } from 'vitest';
import { addSite, freeWindow, type Site } from './job.ts';
import { createTestService, expectStatus, type TestService } from './test-service.ts';

/** A service for all tests of a file, which is closed after them. */
export async function phoneService(): Promise<TestService> {
  const service = await createTestService();
  afterAll(() => service.close());
  return service;
}

/** A ticket on the phone. */
export interface Call extends Site {
  ticketId: string;
}

/** Takes a call at a site of its own. */
export async function takeCall(
  service: TestService,
  { symptoms = ['no_cooling'], site }: { symptoms?: string[]; site?: Site } = {},
): Promise<Call> {
  const place = site ?? (await addSite(service));
  const ticket = await service.as('dispatcher').post('/v1/tickets', {
    siteId: place.siteId,
    complaint: 'It blows warm air.',
    symptoms,
  });
  return { ...place, ticketId: expectStatus(ticket, 201).body.id };
}

/** An answer as it is sent: a word, several words or a number. */
export type Said = string | readonly string[] | number;

/** Every danger is denied. */
export const noDanger: readonly [string, Said][] = [
  ['gas_smell', 'no'],
  ['carbon_monoxide', 'no'],
  ['fire_or_electrical', 'no'],
  ['water_on_electrics', 'no'],
  ['heat_distress', 'no'],
];

/** Nobody suffers, somebody is there, and neither water nor ice is seen. */
export const allCalm: readonly [string, Said][] = [
  ...noDanger,
  ['vulnerable', 'none'],
  ['indoor_temperature', 78],
  ['at_home', 'yes'],
  ['water_seen', 'none'],
  ['ice', 'no'],
];

/** A thermostat that was set wrong, and now it cools. */
export const thermostatHelps: readonly [string, Said][] = [
  ...allCalm,
  ['air', 'warm'],
  ['thermostat_screen', 'on'],
  ['thermostat_settings', 'no'],
  ['set_to_cool', 'yes'],
];

/** A dead outdoor unit, as far as its breaker. */
export const toTheBreaker: readonly [string, Said][] = [
  ...allCalm,
  ['air', 'warm'],
  ['thermostat_screen', 'on'],
  ['thermostat_settings', 'yes'],
  ['outdoor_fan', 'still'],
  ['breaker_box_signs', 'no'],
  ['breaker', 'tripped'],
];

const pathOf = (ticketId: string, act = '') => `/v1/tickets/${ticketId}/phone-checks${act}`;

/** Begins the phone checks of a ticket. */
export async function startChecks(
  service: TestService,
  ticketId: string,
  body: object = {},
): Promise<Response> {
  return expectStatus(await service.as('dispatcher').post(pathOf(ticketId), body), 201);
}

/** The phone checks of a ticket as they are read: the latest first. */
export async function checksOf(service: TestService, ticketId: string): Promise<Response['body']> {
  return expectStatus(await service.as('dispatcher').get(pathOf(ticketId)), 200).body;
}

/** The tag of a ticket's phone checks as they stand. */
export async function checksTag(service: TestService, ticketId: string): Promise<string> {
  const read = expectStatus(await service.as('dispatcher').get(pathOf(ticketId)), 200);
  return read.headers['etag'] ?? '';
}

/** One answer, under the present tag unless given. */
export async function sendAnswer(
  service: TestService,
  ticketId: string,
  [questionCode, said]: readonly [string, Said],
  { ifMatch, note }: { ifMatch?: string; note?: string } = {},
): Promise<Response> {
  const answered =
    typeof said === 'string'
      ? { answer: said }
      : typeof said === 'number'
        ? { value: said }
        : { answers: said };
  const body = { questionCode, ...answered, ...(note !== undefined && { note }) };
  const tag = ifMatch ?? (await checksTag(service, ticketId));
  return service.as('dispatcher').post(pathOf(ticketId, '/answers'), body, { ifMatch: tag });
}

/** Answers one question after the other; each must be the one that is asked. */
export async function answerAll(
  service: TestService,
  ticketId: string,
  answers: readonly (readonly [string, Said])[],
): Promise<Response> {
  let last: Response | undefined;
  for (const each of answers) {
    last = expectStatus(await sendAnswer(service, ticketId, each), 200);
  }
  if (last === undefined) throw new Error('nothing was answered');
  return last;
}

/** Ends the phone checks, or says that their danger is over. */
export async function sendToChecks(
  service: TestService,
  ticketId: string,
  act: 'end' | 'danger-over',
  body: object,
): Promise<Response> {
  const ifMatch = await checksTag(service, ticketId);
  return service.as('dispatcher').post(pathOf(ticketId, `/${act}`), body, { ifMatch });
}

/** A ticket that was solved by the whole dialogue, with its call back. */
export async function solveCall(service: TestService, call?: Call): Promise<Call> {
  const place = call ?? (await takeCall(service));
  await startChecks(service, place.ticketId);
  await answerAll(service, place.ticketId, thermostatHelps);
  const body = { outcome: 'solved', whatHelped: 'Set to cool.' };
  expectStatus(await sendToChecks(service, place.ticketId, 'end', body), 200);
  return place;
}

/** Books a technician for the ticket, into a window that is free. */
export async function sendBooking(service: TestService, ticketId: string): Promise<Response> {
  return service.as('dispatcher').post('/v1/visits', {
    ticketId,
    technicianId: service.staff.technician.id,
    ...freeWindow(),
    feeDisclosure: { toldFeeCents: 8_900, agreedBy: 'Winifred Ashgrove' },
  });
}

/** Connections that wait for a lock right now, by their process. */
export async function waitingFor(service: TestService): Promise<number[]> {
  const { rows } = await service.owner.query<{ pid: number }>(
    `SELECT pid FROM pg_stat_activity
     WHERE datname = current_database() AND wait_event_type = 'Lock'`,
  );
  return rows.map(({ pid }) => pid);
}

/** Does something while a row is held, and lets it go. */
export async function whileHeld(
  service: TestService,
  table: 'site' | 'ticket',
  id: string,
  work: () => Promise<void>,
): Promise<void> {
  const holder = await service.owner.connect();
  try {
    await holder.query('BEGIN');
    await holder.query(`SELECT 1 FROM ${table} WHERE id = $1 FOR UPDATE`, [id]);
    await work();
    await holder.query('COMMIT');
  } finally {
    holder.release();
  }
}

/** Waits until so many connections wait for a lock. */
export async function untilWaiting(service: TestService, count: number): Promise<void> {
  await vi.waitFor(
    async () => {
      const waiting = await waitingFor(service);
      if (waiting.length !== count) throw new Error(`${waiting.length} of ${count} wait`);
    },
    { timeout: 10_000 },
  );
}

/** Stops the phone checks of a ticket that were begun: gas is smelled. */
export async function smellGas(service: TestService, ticketId: string): Promise<void> {
  expectStatus(await sendAnswer(service, ticketId, ['gas_smell', 'yes']), 200);
}

/** Records how it is known that the danger of a ticket is over. */
export async function endDanger(service: TestService, ticketId: string): Promise<void> {
  const note = { note: 'The gas company closed the valve and aired the house.' };
  expectStatus(await sendToChecks(service, ticketId, 'danger-over', note), 200);
}
