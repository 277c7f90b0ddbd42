import {
  asItStands,
  type BookedDay,
  bestWindows,
  type Place,
  type Span,
  type Stop,
  type WindowOffer,
  type WindowRequest,
} from '../planning/index.ts';
import { minuteOf } from './minutes.ts';
import { dayNow, type TechnicianDay, type WorkDays } from './work-days.ts';

/** What a window is looked for. */
export interface WindowsWanted {
  readonly place: Place;
  readonly minutes: number;
  readonly needs: readonly string[];
  readonly urgency: WindowRequest['urgency'];
  /** Of one technician alone. */
  readonly technicianId?: string | undefined;
  /** A visit that would be given up for it. */
  readonly insteadOfId?: string | undefined;
}

/**
 * Work planned later in its window than this is no promise that anybody can keep: common practice,
 * no source.
 */
export const SPARE_MINUTES_MIN = 15;

/**
 * The windows that can be booked as they are told, the best first. Nothing that is booked is
 * planned anew for them, so that they hold until somebody else books.
 */
export function freeWindows(
  days: WorkDays,
  wanted: WindowsWanted,
  windows: readonly Span[],
  now: Date,
): WindowOffer[] {
  const { place, minutes, needs, urgency, technicianId, insteadOfId } = wanted;
  const request = {
    id: 'asked',
    ...{ place, minutes, urgency },
    needs: isSkillKnown(days) ? needs : [],
    helpers: 0,
  };
  const open = [...days.nightBefore, ...days.days]
    .filter(({ crew }) => technicianId === undefined || crew.technicianId === technicianId)
    .filter(({ crew }) => crew.hours.length > 0)
    .map((day) => asBooked(day, days, insteadOfId, now));
  return bestWindows(request, open, windows, days.road).filter(
    (offer) =>
      offer.window.to - offer.plannedStart >= SPARE_MINUTES_MIN &&
      !isTaken(days, offer, insteadOfId),
  );
}

/** A company that keeps no skills on record rules nobody out by them. */
export function isSkillKnown({ days }: Pick<WorkDays, 'days'>): boolean {
  return days.some(({ crew }) => crew.skills.some((skill) => skill !== 'refrigerant'));
}

/** A day on which nothing that is booked moves any more. */
function asBooked(
  { stops, ...day }: TechnicianDay,
  { road }: WorkDays,
  insteadOfId: string | undefined,
  now: Date,
): BookedDay {
  const begin = day.crew.hours[0]?.from ?? 0;
  // What is over before the shift begins, as of a night before it, is on no way of this shift.
  const others = stops.filter(
    ({ id, plannedStart = begin, minutes }) => id !== insteadOfId && plannedStart + minutes > begin,
  );
  const standing = asItStands(dayNow({ ...day, stops: others }), minuteOf(now), road);
  return { crew: standing.crew, stops: standing.stops.map(heldAsPlanned) };
}

function heldAsPlanned(stop: Stop): Stop {
  const { plannedStart } = stop;
  return plannedStart === undefined
    ? stop
    : { ...stop, earliest: plannedStart, latest: plannedStart };
}

/** Whether the database would refuse it: a drive that is too short pushes work in the plan alone. */
function isTaken(
  { visits }: WorkDays,
  { technicianId, plannedStart, plannedEnd }: WindowOffer,
  insteadOfId: string | undefined,
): boolean {
  return visits.some(
    (visit) =>
      visit.technicianId === technicianId &&
      visit.id !== insteadOfId &&
      visit.state !== 'finished' &&
      visit.plannedStart.getTime() < plannedEnd * 60_000 &&
      visit.plannedEnd.getTime() > plannedStart * 60_000,
  );
}
