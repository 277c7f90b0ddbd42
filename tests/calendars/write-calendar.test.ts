import fc from 'fast-check';
import ICAL from 'ical.js';
import { describe, expect, it } from 'vitest';
import type { CalendarVisit } from '../../src/calendars/visits-of-calendar.ts';
import { writeCalendar } from '../../src/calendars/write-calendar.ts';

const zone = 'America/Chicago';

const plain: CalendarVisit = {
  id: '0198a9a0-0000-7000-8000-000000000001',
  version: 3,
  state: 'booked',
  ticketNumber: 1042,
  windowStart: new Date('2026-07-14T18:00:00Z'),
  windowEnd: new Date('2026-07-14T20:00:00Z'),
  plannedStart: new Date('2026-07-14T18:30:00Z'),
  plannedEnd: new Date('2026-07-14T19:15:00Z'),
  street: '3 Thistle Court',
  unit: null,
  city: 'Wrenfield',
  region: 'QX',
  postalCode: '00000',
  hasAccessNotes: false,
  mustCallOffice: false,
  changedAt: new Date('2026-07-13T15:00:00Z'),
};

/** As an independent library reads it. */
function readBack(text: string) {
  const calendar = new ICAL.Component(ICAL.parse(text));
  return calendar.getAllSubcomponents('vevent').map((each) => {
    const event = new ICAL.Event(each);
    return {
      uid: event.uid,
      start: event.startDate.toJSDate(),
      end: event.endDate.toJSDate(),
      isUtc: event.startDate.zone === ICAL.Timezone.utcTimezone,
      summary: event.summary,
      location: event.location,
      description: event.description,
      sequence: event.sequence,
      status: each.getFirstPropertyValue('status'),
      stamp: (each.getFirstPropertyValue('dtstamp') as ICAL.Time).toJSDate(),
    };
  });
}

describe('a technician’s calendar', () => {
  it('says when the work is planned, where, and what was promised; nobody’s name or phone', () => {
    const visit = { ...plain, unit: 'Attic flat 9', hasAccessNotes: true };
    expect(readBack(writeCalendar([visit], zone))).toEqual([
      {
        uid: plain.id,
        start: plain.plannedStart,
        end: plain.plannedEnd,
        isUtc: true,
        summary: '1042 3 Thistle Court',
        location: '3 Thistle Court, Attic flat 9, Wrenfield, QX 00000',
        description:
          'Arrival window: July 14, 2026, 1:00 PM CDT to July 14, 2026, 3:00 PM CDT.\n' +
          'Notes on access are in the ticket.',
        sequence: 3,
        status: 'CONFIRMED',
        stamp: plain.changedAt,
      },
    ]);
  });

  it('says first of all to call the office where danger was told, and never which', () => {
    const [event] = readBack(writeCalendar([{ ...plain, mustCallOffice: true }], zone));
    expect(event?.description).toMatch(/^Call the office before you go in\.\nArrival window: July/);
  });

  it('is a calendar also when nothing is in it', () => {
    const text = writeCalendar([], zone);
    expect(readBack(text)).toEqual([]);
    expect(text).toMatch(/^BEGIN:VCALENDAR\r\nVERSION:2\.0\r\nPRODID:/);
  });

  it.each([
    ['booked', 'CONFIRMED'],
    ['on_the_way', 'CONFIRMED'],
    ['on_site', 'CONFIRMED'],
    ['finished', 'CONFIRMED'],
    ['no_access', 'CONFIRMED'],
    ['cancelled', 'CANCELLED'],
  ] as const)('shows a visit that is %s as %s', (state, status) => {
    expect(readBack(writeCalendar([{ ...plain, state }], zone))[0]?.status).toBe(status);
  });

  // The clocks of Chicago go forward on March 8, 2026 at 2:00 and back on November 1 at 2:00.
  it.each([
    ['forward', '2026-03-08T07:30:00Z', '2026-03-08T08:30:00Z', '1:30 AM CST', '3:30 AM CDT'],
    ['back', '2026-11-01T06:30:00Z', '2026-11-01T07:30:00Z', '1:30 AM CDT', '1:30 AM CST'],
  ])('is right in the night the clocks go %s', (_, start, end, from, to) => {
    const [plannedStart, plannedEnd] = [new Date(start), new Date(end)];
    const visit = {
      ...plain,
      plannedStart,
      plannedEnd,
      windowStart: plannedStart,
      windowEnd: plannedEnd,
    };
    const [event] = readBack(writeCalendar([visit], zone));
    expect([event?.start, event?.end]).toEqual([plannedStart, plannedEnd]);
    expect(event?.description).toContain(from);
    expect(event?.description).toContain(to);
  });

  const hostile = fc.oneof(
    fc.string({ unit: 'grapheme', minLength: 1, maxLength: 200 }),
    fc.string({ unit: 'binary', minLength: 1, maxLength: 60 }),
    fc
      .array(
        fc.constantFrom(
          ...['\r\n', '\r', '\n', ';', ',', '\\', '\\n', '"', ':', '\t', ' ', '\u2028', '\u0085'],
          ...[
            'END:VEVENT',
            'BEGIN:VEVENT',
            'X-EVIL:1',
            'ATTACH:http://x.example',
            'é',
            '😀',
            '日本',
            '\ud800',
          ],
        ),
        { minLength: 1, maxLength: 30 },
      )
      .map((parts) => parts.join('')),
  );
  const anyVisit: fc.Arbitrary<CalendarVisit> = fc
    .record({
      id: fc.uuid(),
      version: fc.nat({ max: 1_000 }),
      state: fc.constantFrom('booked' as const, 'finished' as const, 'cancelled' as const),
      ticketNumber: fc.integer({ min: 1, max: 2_000_000_000 }),
      startMinute: fc.integer({ min: 29_000_000, max: 30_500_000 }),
      minutes: fc.integer({ min: 5, max: 1_440 }),
      street: hostile,
      unit: fc.option(hostile),
      city: hostile,
      region: hostile,
      hasAccessNotes: fc.boolean(),
      mustCallOffice: fc.boolean(),
    })
    .map(({ startMinute, minutes, ...visit }) => {
      const [start, end] = [startMinute, startMinute + minutes].map((at) => new Date(at * 60_000));
      const span = { start: start ?? plain.plannedStart, end: end ?? plain.plannedEnd };
      return {
        ...plain,
        ...visit,
        windowStart: span.start,
        windowEnd: span.end,
        plannedStart: span.start,
        plannedEnd: span.end,
      };
    });

  it('reads back as it was, whatever a street is called, on a hundred random days', () => {
    fc.assert(
      fc.property(
        fc.uniqueArray(anyVisit, { maxLength: 8, selector: ({ id }) => id }),
        (visits) => {
          const read = readBack(writeCalendar(visits, zone));
          expect(read.map(({ uid }) => uid)).toEqual(visits.map(({ id }) => id));
          for (const [at, visit] of visits.entries()) {
            const event = read[at];
            expect([event?.start, event?.end]).toEqual([visit.plannedStart, visit.plannedEnd]);
            expect(event?.sequence).toBe(visit.version);
            // What has no place on a line is a blank, or nothing; every letter is there.
            const letters = (text: string) => text.replace(/[\s\p{C}\p{Z}]+/gu, '');
            expect(letters(event?.summary ?? '')).toBe(
              letters(`${visit.ticketNumber}${visit.street}`),
            );
            expect(letters(event?.location ?? '')).toBe(
              letters(
                `${visit.street},${visit.unit === null ? '' : `${visit.unit},`}${visit.city},${visit.region}00000`,
              ),
            );
          }
        },
      ),
      { numRuns: 100 },
    );
  });

  it('has no line that is too long, ends otherwise, or that somebody else began', () => {
    fc.assert(
      fc.property(fc.array(anyVisit, { minLength: 1, maxLength: 4 }), (visits) => {
        const text = writeCalendar(visits, zone);
        const lines = text.split('\r\n');
        for (const line of lines) {
          // RFC 5545, 3.1: at most 75 octets; and every line break is one of two letters.
          expect(Buffer.byteLength(line)).toBeLessThanOrEqual(75);
          expect(line).not.toMatch(/[\r\n\u2028\u2029\u0085]/);
        }
        const begun = lines
          .filter((line) => !line.startsWith(' '))
          .map((line) => line.split(/[:;]/)[0]);
        const ours = [
          ...[
            'BEGIN',
            'VERSION',
            'PRODID',
            'NAME',
            'X-WR-CALNAME',
            'REFRESH-INTERVAL',
            'X-PUBLISHED-TTL',
          ],
          ...[
            'UID',
            'SEQUENCE',
            'DTSTAMP',
            'DTSTART',
            'DTEND',
            'SUMMARY',
            'LOCATION',
            'DESCRIPTION',
          ],
          ...['STATUS', 'END', ''],
        ];
        expect(begun.filter((name) => !ours.includes(name ?? ''))).toEqual([]);
        expect(begun.filter((name) => name === 'UID')).toHaveLength(visits.length);
      }),
      { numRuns: 200 },
    );
  });
});
