import { asItStands, type DayNow } from './as-it-stands.ts';
import { runRoute } from './run-route.ts';
import type { RouteStop } from './told-route.ts';
import type { Road } from './words.ts';

/** When a stop is expected to begin. */
export interface Expected {
  /** At the door; who is on the way and comes before the window opens, when it opens. */
  readonly arrival: number;
  readonly start: number;
  /** Of the start, past the end of the window that was promised. */
  readonly lateMinutes: number;
}

export interface ExpectedStop extends Expected {
  readonly stopId: string;
  /** The same, if what is in hand runs over. */
  readonly ifOver: Expected;
}

/**
 * What is to be expected of the rest of a technician's day, as it stands at a minute: every stop
 * that nobody has arrived at yet, in order.
 *
 * @param overMinutes By how much the work in hand runs over; where none is in hand, the next one.
 */
export function expectedArrivals(
  day: DayNow,
  now: number,
  road: Road,
  overMinutes = 0,
): ExpectedStop[] {
  const usual = runAsItStands(day, now, road, 0);
  const over = runAsItStands(day, now, road, overMinutes);
  return day.stops.flatMap(({ id: stopId, progress }) => {
    const [own, ifOver] = [usual.get(stopId), over.get(stopId)];
    const isThere = progress.kind === 'finished' || progress.kind === 'on_site';
    if (isThere || own === undefined || ifOver === undefined) return [];
    return [{ stopId, ...expectedOf(own), ifOver: expectedOf(ifOver) }];
  });
}

function runAsItStands(day: DayNow, now: number, road: Road, overMinutes: number) {
  const { crew, stops } = asItStands(day, now, road, overMinutes);
  return new Map(runRoute(crew, stops, road).stops.map((each) => [each.stopId, each]));
}

function expectedOf({ arrival, start, lateMinutes }: RouteStop): Expected {
  return { arrival, start, lateMinutes };
}
