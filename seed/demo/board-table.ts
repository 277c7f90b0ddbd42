import { DateTime } from 'luxon';
import { company } from '../company.ts';
import type { ApiClient } from './api-client.ts';

interface Span {
  start: string;
  end: string;
}

/** The board of a day as the API tells it, as far as it is printed. */
export interface ToldBoard {
  columns: readonly {
    name: string;
    hours: readonly Span[];
    visits: readonly {
      visitId: string;
      ticketNumber: number;
      state: string;
      planned: Span;
      window: Span;
      household: { name: string; street: string };
    }[];
  }[];
}

/** The board of a day as it stands. */
export async function boardOn(dispatcher: ApiClient, day: string): Promise<ToldBoard> {
  return (await dispatcher.get(`/v1/board?day=${day}`)).body;
}

/** A board as lines of text: each technician with their hours, and a row for each visit. */
export function boardTable({ columns }: ToldBoard): string[] {
  return columns.flatMap(({ name, hours, visits }) => [
    `${name}, ${hours.map(clockSpan).join(' and ') || 'not at work'}`,
    ...visits.map(({ planned, window, household, ticketNumber, state }) =>
      [
        `  ${clockSpan(planned).padEnd(20)}`,
        `promised ${clockSpan(window).padEnd(20)}`,
        `ticket ${ticketNumber}`,
        `${household.name}, ${household.street}`,
        ...(state === 'booked' ? [] : [state]),
      ].join('  '),
    ),
    ...(visits.length === 0 ? ['  nothing booked'] : []),
  ]);
}

/** From when to when, on the clock of the company. */
export function clockSpan({ start, end }: Span): string {
  return `${clock(start)} to ${clock(end)}`;
}

/** An arrival window as it is told on the phone. */
export function windowText({ windowStart, windowEnd }: { windowStart: string; windowEnd: string }) {
  return clockSpan({ start: windowStart, end: windowEnd });
}

function clock(instant: string): string {
  return DateTime.fromISO(instant, { zone: company.timeZone })
    .setLocale('en-US')
    .toFormat('h:mm a');
}
