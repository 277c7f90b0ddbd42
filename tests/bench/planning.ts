import {
  bestWindows,
  type DayPlan,
  planDay,
  runRoute,
  usualRounds,
} from '../../src/planning/index.ts';
import { exactDay } from '../planning/exact-day.ts';
import { exactOf } from '../planning/exact-of.ts';
import { cityRoad, type Day, dayFrom, randomDay } from '../planning/random-day.ts';

/** How the planner does, and how long it takes. */
export interface PlanningBench {
  rounds: number;
  /** Invented days of nine stops, against the exact optimum. */
  small: {
    days: number;
    /** Days on which the plan leaves out more weight than the optimum. */
    servingLess: number;
    meanGap: number;
    p95Gap: number;
    worstGap: number;
    meanPlanMs: number;
    meanOptimumMs: number;
  };
  /** A hundred technicians and nine hundred stops, as booked, and with one of them ill. */
  large: { booked: LargeBench; oneIll: LargeBench };
  /** The best windows of five such days, four windows on each. */
  windows: { offers: number; ms: number };
}

export interface LargeBench {
  stops: number;
  promises: number;
  seconds: number;
  /** Absent where there is no present state that keeps all. */
  presentTravelMinutes: number | null;
  travelMinutes: number;
  latePromises: number;
  leftOut: number;
}

const smallDays = 500;

export function benchPlanning(): PlanningBench {
  return { rounds: usualRounds, small: small(), large: large(), windows: windows() };
}

function small(): PlanningBench['small'] {
  const found = Array.from({ length: smallDays }, (_, index) => {
    const size = { crews: 2 + (index % 2), stops: 9, miles: 30, minutes: [30, 120] } as const;
    return againstOptimum(randomDay(index + 1, { ...size, bookedPercent: index % 4 < 2 ? 0 : 60 }));
  });
  const gaps = found.flatMap(({ isLess, gap }) => (isLess ? [] : [gap])).sort((a, b) => a - b);
  return {
    days: found.length,
    servingLess: found.filter(({ isLess }) => isLess).length,
    meanGap: mean(gaps),
    p95Gap: gaps[Math.floor(gaps.length * 0.95)] ?? 0,
    worstGap: gaps.at(-1) ?? 0,
    meanPlanMs: mean(found.map(({ planMs }) => planMs)),
    meanOptimumMs: mean(found.map(({ optimumMs }) => optimumMs)),
  };
}

function againstOptimum(day: Day) {
  const [optimum, optimumMs] = timed(() => exactDay(exactOf(day, cityRoad)));
  const [plan, planMs] = timed(() => planned(day));
  if (optimum === undefined) throw new Error('What is booked was kept, so a plan exists.');
  const leftOut = plan.leftOut.map(({ stopId }) => day.stops.find(({ id }) => id === stopId));
  const weight = leftOut.reduce((sum, stop) => sum + (stop?.weight ?? 0), 0);
  const isLess = plan.late.length > 0 || weight > optimum.leftOutWeight;
  return { isLess, gap: plan.travelMinutes / optimum.travelMinutes - 1, planMs, optimumMs };
}

function large(): PlanningBench['large'] {
  const day = largeDay(7);
  // The first technician's stops go to the others, as far as their windows allow.
  const oneIll = { ...day, crews: day.crews.slice(1) };
  return { booked: benchLarge(day, presentTravel(day)), oneIll: benchLarge(oneIll, null) };
}

function largeDay(seed: number): Day {
  const size = { crews: 100, stops: 900, miles: 40, minutes: [20, 60] } as const;
  return randomDay(seed, { ...size, bookedPercent: 95 });
}

function benchLarge(day: Day, presentTravelMinutes: number | null): LargeBench {
  const [plan, ms] = timed(() => planned(day));
  return {
    stops: day.stops.length,
    promises: day.stops.filter(({ promised }) => promised).length,
    seconds: ms / 1_000,
    presentTravelMinutes,
    travelMinutes: plan.travelMinutes,
    latePromises: plan.late.length,
    leftOut: plan.leftOut.length,
  };
}

function windows(): PlanningBench['windows'] {
  const DAY_MINUTES = 1_440;
  const days = [1, 2, 3, 4, 5].flatMap((seed, index) => {
    const later = index * DAY_MINUTES;
    const { crews, stops } = largeDay(seed);
    return crews.map((crew) => ({
      crew: {
        ...crew,
        hours: crew.hours.map(({ from, to }) => ({ from: from + later, to: to + later })),
      },
      stops: routeOf({ crews, stops }, crew.technicianId).map((stop) => ({
        ...stop,
        earliest: stop.earliest + later,
        latest: stop.latest + later,
      })),
    }));
  });
  const grid = [0, 1, 2, 3, 4].flatMap((index) =>
    [0, 120, 240, 360].map((hour) => {
      const from = dayFrom + index * DAY_MINUTES + hour;
      return { from, to: from + 120 };
    }),
  );
  const [call] = largeDay(6).stops;
  if (call === undefined) throw new Error('A large day has stops.');
  const { place, minutes, needs, helpers } = call;
  const request = { id: 'new', place, minutes, needs, helpers, urgency: 'usual' } as const;
  const [offers, ms] = timed(() => bestWindows(request, days, grid, cityRoad));
  return { offers: offers.length, ms };
}

function planned({ crews, stops }: Day): DayPlan {
  return planDay(crews, stops, cityRoad, { seed: 1, rounds: usualRounds });
}

function presentTravel(day: Day): number {
  return day.crews
    .map((crew) => runRoute(crew, routeOf(day, crew.technicianId), cityRoad).travelMinutes)
    .reduce((sum, each) => sum + each, 0);
}

function routeOf({ stops }: Day, technicianId: string) {
  return stops
    .filter((stop) => stop.technicianId === technicianId)
    .sort((one, other) => (one.plannedStart ?? 0) - (other.plannedStart ?? 0));
}

function timed<T>(run: () => T): [T, number] {
  const before = performance.now();
  const result = run();
  return [result, performance.now() - before];
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, each) => sum + each, 0) / values.length;
}
