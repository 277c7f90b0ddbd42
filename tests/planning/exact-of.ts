import { type Road, travelMinutes } from '../../src/planning/index.ts';
import type { ExactDay } from './exact-day.ts';
import type { Day } from './random-day.ts';

/** A day in the words of the exact optimum. Only the minutes of the road come from the planner. */
export function exactOf({ crews, stops }: Day, road: Road): ExactDay {
  const drivesFrom = (crew: (typeof crews)[number]) =>
    stops.map(({ place }) => travelMinutes(crew.base, place, road));
  return {
    stops: stops.map(({ minutes, earliest, latest, weight, promised, needs, technicianId }) => ({
      minutes,
      earliest,
      latest,
      weight,
      isMust: promised,
      technicians: crews.flatMap((crew, index) =>
        needs.every((need) => crew.skills.includes(need)) || crew.technicianId === technicianId
          ? [index]
          : [],
      ),
    })),
    hours: crews.map(({ hours }) => hours),
    fromBase: crews.map(drivesFrom),
    toBase: crews.map(drivesFrom),
    between: stops.map((one) => stops.map((other) => travelMinutes(one.place, other.place, road))),
  };
}
