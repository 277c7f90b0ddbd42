export { asItStands, type DayNow, type Progress } from './as-it-stands.ts';
export {
  type BookedDay,
  bestWindows,
  type WindowOffer,
  type WindowRequest,
} from './best-windows.ts';
export { type Expected, type ExpectedStop, expectedArrivals } from './expected-arrivals.ts';
export { greatCircleMiles } from './great-circle-miles.ts';
export { hoursLeft } from './hours-left.ts';
export { planDay } from './plan-day.ts';
export { runRoute } from './run-route.ts';
export { type Effort, usualRounds } from './search-plan.ts';
export type { Change, DayPlan } from './told-plan.ts';
export type { Route, RouteStop } from './told-route.ts';
export { travelMinutes } from './travel-minutes.ts';
export { type LeftOutReason, leftOutReasons } from './why-left-out.ts';
export type { Crew, Place, Road, Span, Stop } from './words.ts';
