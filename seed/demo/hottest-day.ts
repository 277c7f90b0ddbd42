import { DateTime } from 'luxon';
import { company } from '../company.ts';
import type { ApiClient } from './api-client.ts';
import { boardOn, boardTable, clockSpan } from './board-table.ts';
import { type BookedCall, bookBest, moveLater } from './book-hot-day.ts';
import { planAnew, runLate } from './change-hot-day.ts';
import { knowHouseholds } from './households.ts';
import { takeHotCalls } from './take-hot-calls.ts';

/** Who is at the desk, and where it is told. */
export interface Desk {
  dispatcher: ApiClient;
  say(line: string): void;
}

/** Whose day is cut short, and whose calendar is read. */
export interface Crew {
  leavesId: string;
  staysId: string;
  /** Where the service is. */
  url: string;
}

/** What the day leaves to be looked at. */
export interface HottestDay {
  day: string;
  /** The event of the board's stream after which it turned out otherwise. */
  event: string;
  /** A ticket that is booked on it. */
  ticketId: string;
}

/** The dispatcher's hottest day: calls come in, windows are told, and then it turns out otherwise. */
export async function hottestDay(desk: Desk, crew: Crew): Promise<HottestDay> {
  await knowHouseholds(desk.dispatcher);
  const day = await freeDay(desk);
  const calls = await takeHotCalls(desk, day);
  desk.say('Told and booked, the best window for each:');
  const booked: BookedCall[] = [];
  for (const call of calls) booked.push(await bookBest(desk, day, call));
  const [first, last] = [booked[0], booked.at(-1)];
  if (first === undefined || last === undefined) throw new Error('nobody called');
  await moveLater(desk, day, last);
  await runLate(desk, await boardOn(desk.dispatcher, day));
  const event = await planAnew(desk, { day, technicianId: crew.leavesId, calls });
  desk.say(`The board of ${day}`);
  for (const line of boardTable(await boardOn(desk.dispatcher, day))) desk.say(`  ${line}`);
  await tellCalendar(desk, crew);
  return { day, event, ticketId: first.ticketId };
}

/** The next day on which everybody works and nothing is booked; an earlier demo had the one before. */
async function freeDay({ dispatcher, say }: Desk): Promise<string> {
  const today = DateTime.now().setZone(company.timeZone);
  for (let ahead = 1; ahead < 90; ahead += 1) {
    const day = today.plus({ days: ahead }).toFormat('yyyy-MM-dd');
    const { columns } = await boardOn(dispatcher, day);
    const isFree = columns.every(({ hours, visits }) => hours.length > 0 && visits.length === 0);
    if (!isFree) continue;
    say(`${day}, the next working day with nothing booked:`);
    await tellShifts({ dispatcher, say }, day);
    return day;
  }
  throw new Error('every day is booked for months');
}

async function tellShifts({ dispatcher, say }: Desk, day: string): Promise<void> {
  const { body } = await dispatcher.get(`/v1/technicians?day=${day}`);
  for (const { name, base, skills, day: its } of body.items) {
    const from = base === null ? 'the depot' : 'home';
    say(
      `  ${name}, ${its.hours.map(clockSpan).join(', ')} from ${from}: ${skills.join(', ').replaceAll('_', ' ')}`,
    );
  }
}

/** The first visit in the calendar that a technician's phone subscribes to. */
async function tellCalendar({ dispatcher, say }: Desk, { staysId, url }: Crew): Promise<void> {
  const made = await dispatcher.post(`/v1/technicians/${staysId}/calendar-feeds`);
  const { pathname } = new URL(made.body.url);
  const text = await (await fetch(`${url}${pathname}`)).text();
  const lines = text.split('\r\n');
  const begin = lines.indexOf('BEGIN:VEVENT');
  say('A technician subscribes to their calendar; its first visit there:');
  for (const line of lines.slice(begin, begin + 8)) say(`  ${line}`);
}
