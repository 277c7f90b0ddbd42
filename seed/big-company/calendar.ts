import { DateTime } from 'luxon';

/** The instant at which every big company stands still: 13:00 on a hot Tuesday in July, locally. */
export const presentDay = '2026-07-14';
export const presentHour = 13;

/** One arrival window of one technician that is still free, and when its caller rings up. */
export interface Slot {
  /** From 0. */
  technician: number;
  start: Date;
  end: Date;
  call: Date;
  /** In the evening, driven by whoever is on call. */
  onCall: boolean;
  /** A later hour of the same technician that nobody else is given; undefined for most windows. */
  later: { start: Date; end: Date } | undefined;
}

/**
 * The windows of a company, first to last: no two of one technician ever overlap. There are
 * exactly as many as asked for, and the last ones are on the present day.
 */
export function* slotsOf(count: number, technicians: number, timeZone: string): Generator<Slot> {
  const days = workingDays(count, technicians, timeZone);
  let skipped = days.reduce((sum, day) => sum + slotsOn(day, technicians), 0) - count;
  for (const [at, day] of days.entries()) {
    for (const band of bandsOn(day)) {
      for (let technician = 0; technician < technicians; technician += 1) {
        if (band.onCall && !isOnCall(day, technician)) continue;
        if (skipped > 0) skipped -= 1;
        else
          yield slotAt(
            day,
            days[at + LATER_DAYS] ?? comingDay(days, at),
            band,
            technician,
            technicians,
          );
      }
    }
  }
}

/** The instant of the present. */
export function presentInstant(timeZone: string): Date {
  return DateTime.fromISO(presentDay, { zone: timeZone }).set({ hour: presentHour }).toJSDate();
}

interface Day {
  /** Local midnight by the offset of the working hours, in milliseconds. */
  midnightMs: number;
  month: number;
  /** Counts back from the present day, which is 0. */
  ago: number;
}

interface Band {
  from: number;
  to: number;
  /** When its callers ring up, in hours of its day; negative hours are on the day before. */
  callFrom: number;
  callTo: number;
  onCall: boolean;
  hasLater: boolean;
}

const BANDS: readonly Band[] = [
  { from: 8, to: 10, callFrom: -8, callTo: -6, onCall: false, hasLater: false },
  { from: 10, to: 12, callFrom: 7.5, callTo: 9.5, onCall: false, hasLater: true },
  { from: 13, to: 15, callFrom: 9.5, callTo: 11.5, onCall: false, hasLater: false },
  { from: 15, to: 17, callFrom: 11.5, callTo: 12.9, onCall: false, hasLater: false },
  { from: 18, to: 20, callFrom: 14.5, callTo: 17, onCall: true, hasLater: false },
];

/** The last hour of a working day is kept for coming back with a part. */
const LATER = { from: 17, to: 18 };
const LATER_DAYS = 3;

/** Windows a technician drives in a month from January on: heat makes the year. */
const BANDS_BY_MONTH = [2, 2, 2, 3, 3, 4, 4, 4, 3, 3, 2, 2];

function bandsOn(day: Day): Band[] {
  const driven = BANDS_BY_MONTH[day.month - 1] ?? 2;
  return BANDS.filter((band, at) => (band.onCall ? day.ago > 0 : at < driven));
}

function isOnCall(day: Day, technician: number): boolean {
  return (day.ago + technician) % 5 === 0;
}

function slotsOn(day: Day, technicians: number): number {
  const everybody = Array.from({ length: technicians }, (_, technician) => technician);
  const onCall = everybody.filter((technician) => isOnCall(day, technician)).length;
  return bandsOn(day).reduce((sum, band) => sum + (band.onCall ? onCall : technicians), 0);
}

/** Working days (Monday to Saturday) back from the present until they hold the windows. */
function workingDays(count: number, technicians: number, timeZone: string): Day[] {
  const days: Day[] = [];
  let day = DateTime.fromISO(presentDay, { zone: timeZone });
  for (let held = 0; held < count; day = day.minus({ days: 1 })) {
    if (day.weekday === 7) continue;
    const next = { midnightMs: midnightOf(day), month: day.month, ago: days.length };
    days.push(next);
    held += slotsOn(next, technicians);
  }
  return days.reverse();
}

function midnightOf(day: DateTime): number {
  return day.set({ hour: 8 }).toMillis() - 8 * HOUR_MS;
}

/** A day after the present one; the Sunday between does not matter this close to it. */
function comingDay(days: readonly Day[], at: number): Day {
  const last = days[days.length - 1];
  if (last === undefined) throw new Error('a calendar without windows has no days');
  const ahead = at + LATER_DAYS - (days.length - 1);
  return { ...last, midnightMs: last.midnightMs + ahead * 24 * HOUR_MS };
}

function slotAt(day: Day, later: Day, band: Band, technician: number, technicians: number): Slot {
  const share = (technician + 0.5) / technicians;
  return {
    technician,
    start: hour(day, band.from),
    end: hour(day, band.to),
    call: hour(day, band.callFrom + share * (band.callTo - band.callFrom)),
    onCall: band.onCall,
    later: band.hasLater
      ? { start: hour(later, LATER.from), end: hour(later, LATER.to) }
      : undefined,
  };
}

function hour(day: Day, hours: number): Date {
  return new Date(Math.round(day.midnightMs + hours * HOUR_MS));
}

const HOUR_MS = 3_600_000;
