import { DateTime } from 'luxon';
import { company } from '../company.ts';
import { Refused } from './api-client.ts';
import { bookBest } from './book-hot-day.ts';
import type { Desk } from './hottest-day.ts';
import { type Household, households } from './households.ts';
import { askByPhone, frailAtHome, smellsGas } from './phone.ts';

/** A call that was taken: who it is, and the ticket it opened. */
export interface TakenCall {
  name: string;
  ticketId: string;
  number: number;
}

/** Takes the calls for a day, danger first. @returns them, who must not wait first */
export async function takeHotCalls(desk: Desk, day: string): Promise<TakenCall[]> {
  const { dispatcher, say } = desk;
  const today = DateTime.now().setZone(company.timeZone).toISODate();
  const heat = { highDegF: 104, relativeHumidityPercent: 35 };
  const weather = await dispatcher.post(`/v1/days/${today}/weather`, heat);
  const { highDegF, feelsLikeDegF } = weather.body;
  const feels = Math.round(feelsLikeDegF);
  say(`Today it is ${highDegF} °F and feels like ${feels} °F. Five households call:`);
  const typo = await call(desk, households.typo, 'brockelsby');
  const danger = await call(desk, households.danger);
  await smellGas(desk, danger);
  const frail = await call(desk, households.frail);
  await tellFrail(desk, frail);
  const others = [await call(desk, households.north), await call(desk, households.south)];
  await tellWaiting(desk);
  await gasIsOff(desk, day, danger);
  return [danger, frail, ...others, typo];
}

/** Finds the household by what was heard and opens its ticket. */
async function call(
  { dispatcher, say }: Desk,
  { name, phone, complaint }: Household,
  heard = phone,
): Promise<TakenCall> {
  const found = await dispatcher.get(`/v1/callers?search=${encodeURIComponent(heard)}`);
  const [who] = found.body.items;
  const [home] = who.sites;
  if (heard !== phone) say(`"${heard}" typed, found: ${who.name}, ${home.street}`);
  const taken = await dispatcher.post('/v1/calls', {
    customer: { id: who.id },
    site: { id: home.id },
    ...{ complaint, symptoms: ['no_cooling'] },
  });
  return { name, ticketId: taken.body.ticket.id, number: taken.body.ticket.number };
}

async function smellGas({ dispatcher, say }: Desk, { name, ticketId }: TakenCall): Promise<void> {
  const { checks } = await askByPhone(dispatcher, ticketId, smellsGas);
  say(`${name} smells gas: no more questions. Read aloud:`);
  say(`  "${checks.body.next.text}"`);
}

async function tellFrail({ dispatcher, say }: Desk, { name, ticketId }: TakenCall): Promise<void> {
  const { checks, asked } = await askByPhone(dispatcher, ticketId, frailAtHome, 'vulnerable');
  const path = `/v1/tickets/${ticketId}/phone-checks/end`;
  const note = 'She has to see to her mother; we call when the window is known.';
  await dispatcher.post(path, { outcome: 'broken_off', note }, checks.tag);
  say(
    `${name}: ${asked} questions, no danger; somebody frail is at home, and she has to go to her`,
  );
}

/** Who waits, as the board of the day shows it beside the columns. */
async function tellWaiting({ dispatcher, say }: Desk): Promise<void> {
  const { body } = await dispatcher.get('/v1/board');
  say('Who comes first, and why:');
  for (const { rank, sentence, household } of body.office.waiting.slice(0, 5)) {
    say(`  ${rank}  ${household.name}: ${sentence}`);
  }
}

/** Nobody is booked while it is not over; then somebody says how they know that it is. */
async function gasIsOff(desk: Desk, day: string, taken: TakenCall): Promise<void> {
  const { dispatcher, say } = desk;
  say(`${taken.name} cannot be booked yet: ${await refusalOf(bookBest(desk, day, taken))}`);
  const path = `/v1/tickets/${taken.ticketId}/phone-checks`;
  const { tag } = await dispatcher.get(path);
  const note = 'The gas company shut the valve, aired the house and says that it is safe.';
  await dispatcher.post(`${path}/danger-over`, { note }, tag);
  say(`When that is known, it is written down: "${note}"`);
}

async function refusalOf(act: Promise<unknown>): Promise<string> {
  try {
    await act;
  } catch (error) {
    if (error instanceof Refused) return error.detail;
    throw error;
  }
  throw new Error('it was not refused');
}
