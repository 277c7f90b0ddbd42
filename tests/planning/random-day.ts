import {
  type Crew,
  greatCircleMiles,
  type Place,
  type Road,
  runRoute,
  type Span,
  type Stop,
} from '../../src/planning/index.ts';
import { type Chance, seededChance } from '../../src/planning/seeded-chance.ts';

export interface Day {
  readonly crews: readonly Crew[];
  readonly stops: readonly Stop[];
}

export interface DaySize {
  readonly crews: number;
  readonly stops: number;
  /** The side of the square the company works in. */
  readonly miles: number;
  /** The shortest and the longest work. */
  readonly minutes: readonly [number, number];
  /** Of all stops, how many of a hundred are booked already, where anybody's day allows it. */
  readonly bookedPercent: number;
}

export const cityRoad: Road = { roadFactor: 1.3, mph: 30, parkMinutes: 5 };

/** Eight in the morning of some day, and ten hours on. */
export const dayFrom = 29_700_000;
export const dayTo = dayFrom + 600;

const skills = ['gas_heat', 'heat_pump'];

/**
 * An invented day: places anywhere in a square, arrival windows of two to four hours, one stop in
 * three asks for a skill, every other technician lacks one, one in three has a break at noon. What
 * is booked, the technician with the nearest base has whose day still keeps all with it.
 */
export function randomDay(seed: number, size: DaySize): Day {
  const chance = seededChance(seed);
  const crews = Array.from({ length: size.crews }, (_, index) => crewOf(index, size, chance));
  const calls = Array.from({ length: size.stops }, (_, index) => stopOf(index, size, chance));
  const routes = new Map<Crew, readonly Stop[]>(crews.map((crew) => [crew, []]));
  const open = calls.filter((call) => {
    if (chance.below(100) >= size.bookedPercent) return true;
    const byDistance = crews.toSorted(
      (one, other) =>
        greatCircleMiles(one.base, call.place) - greatCircleMiles(other.base, call.place),
    );
    return !byDistance.some((crew) => book(routes, crew, call));
  });
  const booked = [...routes].flatMap(([crew, route]) => planned(crew, route));
  return { crews, stops: [...booked, ...open] };
}

/** Books a call into a route by the end of its window, if all is still kept. */
function book(routes: Map<Crew, readonly Stop[]>, crew: Crew, call: Stop): boolean {
  if (!call.needs.every((need) => crew.skills.includes(need))) return false;
  const { technicianId } = crew;
  const longer = [...(routes.get(crew) ?? []), { ...call, promised: true, technicianId }].sort(
    (one, other) => one.latest - other.latest,
  );
  if (!runRoute(crew, longer, cityRoad).isKept) return false;
  routes.set(crew, longer);
  return true;
}

function planned(crew: Crew, route: readonly Stop[]): Stop[] {
  const { stops } = runRoute(crew, route, cityRoad);
  return route.map((stop, position) => {
    const plannedStart = stops[position]?.start;
    return plannedStart === undefined ? stop : { ...stop, plannedStart };
  });
}

function crewOf(index: number, { miles }: DaySize, chance: Chance): Crew {
  return {
    technicianId: `technician-${String(index).padStart(3, '0')}`,
    base: placeIn(miles, chance),
    hours: hoursOf(chance),
    skills: index % 2 === 0 ? skills : skills.slice(chance.below(2)).slice(0, 1),
    helpers: 0,
  };
}

function hoursOf(chance: Chance): Span[] {
  const noon = dayFrom + 240;
  return chance.below(3) === 0
    ? [
        { from: dayFrom, to: noon },
        { from: noon + 30, to: dayTo },
      ]
    : [{ from: dayFrom, to: dayTo }];
}

function stopOf(
  index: number,
  { miles, minutes: [shortest, longest] }: DaySize,
  chance: Chance,
): Stop {
  const width = 120 + 30 * chance.below(5);
  const earliest = dayFrom + 30 * chance.below(1 + (600 - width) / 30);
  return {
    id: `stop-${String(index).padStart(4, '0')}`,
    place: placeIn(miles, chance),
    minutes: shortest + 5 * chance.below(1 + (longest - shortest) / 5),
    earliest,
    latest: earliest + width,
    needs: chance.below(3) === 0 ? [skills[chance.below(2)] ?? 'gas_heat'] : [],
    helpers: 0,
    promised: false,
    weight: 1 + chance.below(3),
  };
}

/** About 69 miles make a degree of latitude, and 58 one of longitude at 33.4 degrees north. */
function placeIn(miles: number, chance: Chance): Place {
  return {
    latitudeDeg: 33.4 + (chance.below(10_000) / 10_000) * (miles / 69),
    longitudeDeg: -112 + (chance.below(10_000) / 10_000) * (miles / 58),
  };
}
