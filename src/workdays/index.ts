export type { BookedVisit } from './booked-visits.ts';
export {
  freeWindows,
  isSkillKnown,
  SPARE_MINUTES_MIN,
  type WindowsWanted,
} from './free-windows.ts';
export { instantOf, minuteAfter, minuteOf } from './minutes.ts';
export { offeredWindows } from './offered-windows.ts';
export { type KnownPlace, placesOf } from './places-of.ts';
export { type TicketNeeds, ticketNeeds } from './ticket-needs.ts';
export {
  type BookedStop,
  dayNow,
  type Reader,
  type TechnicianDay,
  type WorkDays,
  workDays,
} from './work-days.ts';
