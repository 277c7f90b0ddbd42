import ical, { ICalEventStatus } from 'ical-generator';
import { localMomentText } from '../company/index.ts';
import { oneLine } from '../platform/one-line.ts';
import type { CalendarVisit } from './visits-of-calendar.ts';

/**
 * A technician's visits as a calendar (RFC 5545). It lies with whoever keeps the calendar, so it says
 * when and where, and neither who lives there nor what opens the gate: that is in the ticket.
 */
export function writeCalendar(visits: readonly CalendarVisit[], timeZone: string): string {
  const calendar = ical({
    prodId: { company: 'Evenhand', product: 'Visits', language: 'EN' },
    // The library writes this line as it is given, so nothing that anybody typed may be in it.
    name: 'Visits',
    ttl: REFRESH_SECONDS,
  });
  for (const visit of visits) {
    calendar.createEvent({
      id: visit.id,
      sequence: visit.version,
      stamp: visit.changedAt,
      start: visit.plannedStart,
      end: visit.plannedEnd,
      summary: oneLine(`${visit.ticketNumber} ${visit.street}`),
      location: addressOf(visit),
      description: descriptionOf(visit, timeZone),
      status: STATUS[visit.state],
    });
  }
  return calendar.toString();
}

/** How often a calendar should ask again. */
const REFRESH_SECONDS = 900;

/** Where nobody let us in, the time was spent all the same. */
const STATUS: Readonly<Record<CalendarVisit['state'], ICalEventStatus>> = {
  booked: ICalEventStatus.CONFIRMED,
  on_the_way: ICalEventStatus.CONFIRMED,
  on_site: ICalEventStatus.CONFIRMED,
  finished: ICalEventStatus.CONFIRMED,
  no_access: ICalEventStatus.CONFIRMED,
  cancelled: ICalEventStatus.CANCELLED,
};

function addressOf({ street, unit, city, region, postalCode }: CalendarVisit): string {
  const parts = [street, ...(unit === null ? [] : [unit]), city, `${region} ${postalCode}`];
  return parts.map(oneLine).join(', ');
}

function descriptionOf(visit: CalendarVisit, timeZone: string): string {
  const [start, end] = [visit.windowStart, visit.windowEnd].map((instant) =>
    localMomentText(instant, timeZone),
  );
  // What was told of the home, and of whom, is for no calendar.
  const lines = visit.mustCallOffice ? ['Call the office before you go in.'] : [];
  lines.push(`Arrival window: ${start} to ${end}.`);
  if (visit.hasAccessNotes) lines.push('Notes on access are in the ticket.');
  return lines.join('\n');
}
