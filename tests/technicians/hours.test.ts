import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { localInstant } from '../../src/company/index.ts';
import { hoursOf } from '../../src/technicians/index.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';

const chicago = 'America/Chicago';
const kolkata = 'Asia/Kolkata';
const everyDay = [1, 2, 3, 4, 5, 6, 7];

let service: TestService;
let id: string;
beforeAll(async () => {
  service = await createTestService({ withPriceBook: false });
  id = service.staff.technician.id;
});
afterAll(() => service.close());

function post(path: string, body: object) {
  return service.as('dispatcher').post(`/v1/technicians/${id}/${path}`, body);
}

async function setWeek(
  hours: { startMinute: number; endMinute: number }[],
  validFrom = '2026-01-01',
): Promise<void> {
  const week = everyDay.flatMap((weekday) => hours.map((each) => ({ weekday, ...each })));
  expectStatus(await post('work-weeks', { validFrom, hours: week }), 201);
}

const at = (clock: string, days = 0) => {
  const [hour = 0, minute = 0] = clock.split(':').map(Number);
  return days * 1_440 + hour * 60 + minute;
};
const from = (start: string, end: string, days = 0) => ({
  startMinute: at(start),
  endMinute: at(end, days),
});

async function spansOn(day: string, zone = chicago, of: 'hours' | 'onCall' = 'hours') {
  const found = (await hoursOf(service.db.prisma, [id], day, zone)).get(id);
  const text = (minute: number) => new Date(minute * 60_000).toISOString().slice(0, 16);
  return found?.[of].map((span) => [text(span.from), text(span.to)]);
}

describe('the hours of a day are instants on the clock of the company', () => {
  const night = from('22:00', '06:00', 1);
  const day = from('08:00', '17:00');
  it.each([
    // The clocks of Chicago go forward on 2026-03-08 at two and back on 2026-11-01 at two (15 U.S.C.
    // 260a); those of Kolkata never.
    [
      'a night when the clocks go forward',
      chicago,
      '2026-03-07',
      night,
      '03-08T04:00',
      '03-08T11:00',
      7,
    ],
    [
      'a night when the clocks go back',
      chicago,
      '2026-10-31',
      night,
      '11-01T03:00',
      '11-01T12:00',
      9,
    ],
    ['a usual night', chicago, '2026-03-09', night, '03-10T03:00', '03-10T11:00', 8],
    ['that spring night in India', kolkata, '2026-03-07', night, '03-07T16:30', '03-08T00:30', 8],
    ['that autumn night in India', kolkata, '2026-10-31', night, '10-31T16:30', '11-01T00:30', 8],
    [
      'the day the clocks went forward',
      chicago,
      '2026-03-08',
      day,
      '03-08T13:00',
      '03-08T22:00',
      9,
    ],
    ['the day the clocks went back', chicago, '2026-11-01', day, '11-01T14:00', '11-01T23:00', 9],
    ['the last night of a year', chicago, '2026-12-31', night, '01-01T04:00', '01-01T12:00', 8],
  ])('%s in %s', async (_, zone, date, hours, start, end, realHours) => {
    await setWeek([hours]);
    const [span] = (await spansOn(date, zone)) ?? [];
    expect(span?.map((each) => each.slice(5))).toEqual([start, end]);
    const [begin = '', stop = ''] = span ?? [];
    expect(Date.parse(`${stop}Z`) - Date.parse(`${begin}Z`)).toBe(realHours * 3_600_000);
  });

  it.each(['', '/:id'])(
    'of the last day that can be written end after it: %s refuses it',
    async (at) => {
      const path = `/v1/technicians${at.replace(':id', id)}?day=9999-12-31`;
      expectProblem(await service.as('dispatcher').get(path), 'validation-failed');
    },
  );

  it('on a leap day, and in the night after it', async () => {
    await setWeek([day, night]);
    expect(await spansOn('2028-02-29')).toEqual([
      ['2028-02-29T14:00', '2028-02-29T23:00'],
      ['2028-03-01T04:00', '2028-03-01T12:00'],
    ]);
  });

  it('a time shown twice is the first, and what lies in a skipped hour alone is no time', async () => {
    await setWeek([from('01:30', '05:00')]);
    // 01:30 comes at 06:30 and again at 07:30.
    expect(await spansOn('2026-11-01')).toEqual([['2026-11-01T06:30', '2026-11-01T11:00']]);
    await setWeek([from('02:00', '03:00')]);
    expect(await spansOn('2026-03-08')).toEqual([]);
    // What was apart by hours that were skipped is one.
    await setWeek([from('02:15', '02:45'), from('03:00', '04:00')]);
    expect(await spansOn('2026-03-08')).toEqual([['2026-03-08T08:00', '2026-03-08T09:00']]);
  });

  it('whatever the zone and the day, the clock then shows the time that was asked for', () => {
    const zones = [chicago, kolkata, 'Australia/Lord_Howe', 'America/St_Johns', 'Pacific/Apia'];
    const days = fc.integer({ min: 0, max: 3_650 });
    fc.assert(
      fc.property(fc.constantFrom(...zones), days, fc.nat(2_879), (zone, offset, minute) => {
        const midnight = Date.UTC(2024, 0, 1 + offset);
        const instant = localInstant(new Date(midnight).toISOString().slice(0, 10), minute, zone);
        const asked = new Date(midnight + minute * 60_000).toISOString().slice(0, 16);
        // Every instant at which the clock shows it, by the tables of the runtime and not by ours.
        const near = Array.from({ length: 7 }, (_, step) => (step - 3) * 30 * 60_000);
        const shown = near.filter((shift) => clockOf(instant.getTime() + shift, zone) === asked);
        // Nothing shows a skipped time; else this is the first that does.
        expect(shown[0] ?? 0).toBe(0);
      }),
      { numRuns: 300 },
    );
  });
});

/** What a wall clock shows, as `2026-07-14T13:00`. */
function clockOf(instant: number, timeZone: string): string {
  const parts = new Intl.DateTimeFormat('sv-SE', {
    ...{ timeZone, dateStyle: 'short', timeStyle: 'short' },
  });
  return parts.format(instant).replace(' ', 'T');
}

describe('which hours count', () => {
  const day = '2026-08-04';
  it('those of the week recorded last for the latest day, and none before the first', async () => {
    await setWeek([from('07:00', '15:00')], '2026-01-01');
    await setWeek([from('09:00', '17:00')], '2026-08-05');
    await setWeek([from('08:00', '16:00')], '2026-08-01');
    await setWeek([from('06:00', '14:00')], '2026-08-01');
    expect(await spansOn('2026-08-05')).toEqual([['2026-08-05T14:00', '2026-08-05T22:00']]);
    expect(await spansOn(day)).toEqual([['2026-08-04T11:00', '2026-08-04T19:00']]);
    expect(await spansOn('2026-07-31')).toEqual([['2026-07-31T12:00', '2026-07-31T20:00']]);
    expect(await spansOn('2025-12-31')).toEqual([]);
  });

  it('of days away the one recorded last, until it is taken back; on call beside both', async () => {
    await setWeek([from('08:00', '16:00')], '2026-09-01');
    const days = { firstDay: '2026-09-07', lastDay: '2026-09-11' };
    const add = async (body: object) =>
      expectStatus(await post('absences', { ...days, ...body }), 201).body.id;
    const off = await add({ why: 'day_off' });
    expect(await spansOn('2026-09-11')).toEqual([]);
    expect(await spansOn('2026-09-12')).toHaveLength(1);
    const other = await add({
      ...{ why: 'other_hours', firstDay: '2026-09-11' },
      hours: [from('12:00', '15:00')],
    });
    expect(await spansOn('2026-09-11')).toEqual([['2026-09-11T17:00', '2026-09-11T20:00']]);
    await add({ why: 'on_call', hours: [from('18:00', '06:00', 1)] });
    expect(await spansOn('2026-09-11')).toEqual([['2026-09-11T17:00', '2026-09-11T20:00']]);
    expect(await spansOn('2026-09-10', chicago, 'onCall')).toEqual([
      ['2026-09-10T23:00', '2026-09-11T11:00'],
    ]);
    expectStatus(await post(`absences/${other}/withdraw`, {}), 200);
    expect(await spansOn('2026-09-11')).toEqual([]);
    expectStatus(await post(`absences/${off}/withdraw`, {}), 200);
    expect(await spansOn('2026-09-11')).toEqual([['2026-09-11T13:00', '2026-09-11T21:00']]);
    expectProblem(await post(`absences/${off}/withdraw`, {}), 'not-allowed-now');
  });

  const week = { validFrom: '2026-01-01' };
  const days = { firstDay: '2026-09-07', lastDay: '2026-09-11' };
  const sunday = { weekday: 7, ...from('22:00', '06:00', 1) };
  it.each([
    [
      'hours that overlap',
      'work-weeks',
      { ...week, hours: [on(1, '08:00', '12:00'), on(1, '11:00', '13:00')] },
    ],
    [
      'a night that runs into the morning after it',
      'work-weeks',
      { ...week, hours: [sunday, on(1, '05:00', '13:00')] },
    ],
    [
      'hours that end before they start',
      'work-weeks',
      { ...week, hours: [on(1, '12:00', '08:00')] },
    ],
    [
      'an absence that ends before it starts',
      'absences',
      { firstDay: '2026-09-07', lastDay: '2026-09-06', why: 'sick' },
    ],
    [
      'an absence of years',
      'absences',
      { firstDay: '2026-09-07', lastDay: '2027-09-08', why: 'training' },
    ],
    ['other hours that are not said', 'absences', { ...days, why: 'other_hours' }],
    [
      'nights on call that overlap each other',
      'absences',
      { ...days, why: 'on_call', hours: [from('18:00', '18:00', 1), from('17:00', '18:00')] },
    ],
  ])('refuses %s', async (_, path, body) => {
    expectProblem(expectStatus(await post(path, body), 400), 'validation-failed');
  });

  it('lets nights follow on days without a gap', async () => {
    const hours = [sunday, on(1, '06:00', '22:00'), on(1, '22:00', '24:00')];
    expectStatus(await post('work-weeks', { ...week, hours }), 201);
  });
});

function on(weekday: number, start: string, end: string) {
  return { weekday, ...from(start, end) };
}
