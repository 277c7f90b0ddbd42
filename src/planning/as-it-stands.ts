import { hoursLeft } from './hours-left.ts';
import { travelMinutes } from './travel-minutes.ts';
import type { Crew, Place, Road, Stop } from './words.ts';

/** How far a stop has come. */
export type Progress =
  | { readonly kind: 'finished'; readonly start: number; readonly end: number }
  | { readonly kind: 'on_site'; readonly since: number }
  | { readonly kind: 'on_the_way'; readonly since: number }
  | { readonly kind: 'booked' };

/** A technician's day, in its order: what is finished, what is in hand, what is booked. */
export interface DayNow {
  readonly crew: Crew;
  readonly stops: readonly (Stop & { readonly progress: Progress })[];
}

/**
 * A day under way as one to run or to plan: what is finished or in hand is pinned with the times it
 * had or will have, and of the hours there is what is left. Work in hand takes its planned minutes,
 * or as long as it has taken already. Who is on the way arrives after the usual drive, and now at
 * the earliest.
 *
 * @param overMinutes By how much the first stop that is not finished takes longer than that.
 */
export function asItStands(
  { crew, stops }: DayNow,
  now: number,
  road: Road,
  overMinutes = 0,
): { readonly crew: Crew; readonly stops: readonly Stop[] } {
  const current = stops.find(({ progress }) => progress.kind !== 'finished');
  return {
    crew: { ...crew, hours: hoursLeft(crew.hours, now) },
    stops: stops.map(({ progress, ...stop }, index) => {
      const from = stops[index - 1]?.place ?? crew.base;
      const known = pinned(stop, progress, from, now, road);
      return stop.id === current?.id ? { ...known, minutes: known.minutes + overMinutes } : known;
    }),
  };
}

function pinned(stop: Stop, progress: Progress, from: Place, now: number, road: Road): Stop {
  switch (progress.kind) {
    case 'finished':
      // Even work of no time is a stop on the way.
      return {
        ...stop,
        pinnedStart: progress.start,
        minutes: Math.max(1, progress.end - progress.start),
      };
    case 'on_site':
      return {
        ...stop,
        pinnedStart: progress.since,
        minutes: Math.max(stop.minutes, now - progress.since),
      };
    case 'on_the_way': {
      const arrival = Math.max(now, progress.since + travelMinutes(from, stop.place, road));
      return { ...stop, pinnedStart: Math.max(stop.earliest, arrival) };
    }
    case 'booked':
      return stop;
  }
}
