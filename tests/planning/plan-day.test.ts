import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  asItStands,
  type Crew,
  type DayPlan,
  type Place,
  type Progress,
  planDay,
  runRoute,
  type Stop,
} from '../../src/planning/index.ts';
import { exactDay } from './exact-day.ts';
import { exactOf } from './exact-of.ts';
import { faultsOfPlan } from './faults-of-plan.ts';
import { cityRoad, type Day, dayFrom, randomDay } from './random-day.ts';

const effort = { seed: 1, rounds: 100 };

const anyDay: fc.Arbitrary<Day> = fc
  .record({
    seed: fc.integer({ min: 0, max: 2 ** 32 - 1 }),
    crews: fc.integer({ min: 1, max: 4 }),
    stops: fc.integer({ min: 0, max: 16 }),
    bookedPercent: fc.constantFrom(0, 50, 100),
  })
  .map(({ seed, ...size }) => randomDay(seed, { ...size, miles: 30, minutes: [20, 120] }));

describe('a planned day', () => {
  it('has no overlapping work, every start in its window and hours, and nobody without the skill', () => {
    fc.assert(
      fc.property(anyDay, (day) => {
        const plan = planDay(day.crews, day.stops, cityRoad, effort);
        expect(faultsOfPlan(day, plan, cityRoad)).toEqual([]);
        // What is booked was kept, so it still is.
        expect(plan.late).toEqual([]);
        expect(plan.beyondHours).toEqual([]);
      }),
      { numRuns: 150 },
    );
  });

  it('is the same in whatever order the day is given, and each time', () => {
    fc.assert(
      fc.property(
        anyDay.chain((day) =>
          fc.record({
            day: fc.constant(day),
            crews: shuffled(day.crews),
            stops: shuffled(day.stops),
          }),
        ),
        ({ day, crews, stops }) => {
          const plan = planDay(day.crews, day.stops, cityRoad, effort);
          expect(planDay(crews, stops, cityRoad, effort)).toEqual(plan);
        },
      ),
      { numRuns: 60 },
    );
  });

  it('never serves less than the present state, nor drives longer for as much', () => {
    fc.assert(
      fc.property(anyDay, (day) => {
        const plan = planDay(day.crews, day.stops, cityRoad, effort);
        const booked = new Set(day.stops.filter(({ promised }) => promised).map(({ id }) => id));
        const placed = plan.routes.flatMap(({ stops }) => stops.map(({ stopId }) => stopId));
        expect(placed).toEqual(expect.arrayContaining([...booked]));
        if (placed.length === booked.size) {
          expect(plan.travelMinutes).toBeLessThanOrEqual(presentTravel(day));
        }
      }),
      { numRuns: 100 },
    );
  });

  it('moves nothing that is under way, and plans the rest around it', () => {
    fc.assert(
      fc.property(anyDay, fc.integer({ min: 0, max: 600 }), (day, minute) => {
        const now = dayFrom + minute;
        const underWay = dayAt(day, now);
        const plan = planDay(underWay.crews, underWay.stops, cityRoad, effort);
        expect(faultsOfPlan(underWay, plan, cityRoad)).toEqual([]);
        const begun = plan.routes.flatMap(({ stops }) => stops.filter(({ start }) => start < now));
        const pinned = new Set(
          underWay.stops.filter((stop) => stop.pinnedStart !== undefined).map(({ id }) => id),
        );
        // Nothing is planned into the past.
        expect(begun.filter(({ stopId }) => !pinned.has(stopId))).toEqual([]);
      }),
      { numRuns: 100 },
    );
  });

  it('of a hundred technicians and nine hundred stops breaks no promise, and what is under way stays', () => {
    const size = {
      crews: 100,
      stops: 900,
      miles: 40,
      minutes: [20, 60],
      bookedPercent: 95,
    } as const;
    const day = dayAt(randomDay(7, size), dayFrom + 120);
    const pinned = day.stops.filter(({ pinnedStart }) => pinnedStart !== undefined);
    expect(pinned.length).toBeGreaterThan(50);
    expect(day.stops.filter(({ promised }) => promised).length).toBeGreaterThan(800);
    const plan = planDay(day.crews, day.stops, cityRoad, effort);
    expect(faultsOfPlan(day, plan, cityRoad)).toEqual([]);
    expect(plan.late).toEqual([]);
    expect(plan.leftOut.filter(({ stopId }) => isPromised(day, stopId))).toEqual([]);
    expect(plan.travelMinutes).toBeLessThan(presentTravel(day));
  }, 120_000);
});

describe('the optimum itself', () => {
  // Holds because no detour is shorter than the direct way, and who comes earlier ends no later.
  it('never drives less for one stop more, where all are served either way', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 2 ** 32 - 1 }), (seed) => {
        const size = {
          crews: 2,
          stops: 6,
          miles: 30,
          minutes: [20, 90],
          bookedPercent: 0,
        } as const;
        const day = randomDay(seed, size);
        const all = exactDay(exactOf(day, cityRoad));
        const fewer = exactDay(exactOf({ ...day, stops: day.stops.slice(1) }, cityRoad));
        fc.pre(all?.leftOutWeight === 0 && fewer?.leftOutWeight === 0);
        expect(all?.travelMinutes).toBeGreaterThanOrEqual(fewer?.travelMinutes ?? 0);
      }),
      { numRuns: 100 },
    );
  });
});

// Along one meridian at a minute for a mile: a place is its miles north of the base.
const line = { roadFactor: 1, mph: 60, parkMinutes: 0 };
const milesNorth = (miles: number): Place => ({ latitudeDeg: miles / 69.0936, longitudeDeg: 0 });
const ann: Crew = {
  technicianId: 'ann',
  base: milesNorth(0),
  hours: [{ from: 480, to: 1_020 }],
  skills: [],
  helpers: 0,
};
const bob: Crew = { ...ann, technicianId: 'bob', base: milesNorth(40) };

function call(id: string, miles: number, earliest: number, latest: number, minutes = 60): Stop {
  const place = milesNorth(miles);
  const open = { needs: [], helpers: 0, promised: false, weight: 1 };
  return { id, place, minutes, earliest, latest, ...open };
}

function booking(stop: Stop, technicianId: string, plannedStart: number): Stop {
  return { ...stop, promised: true, technicianId, plannedStart };
}

describe('a plan tells', () => {
  it('who gets what, what moves to whom, and which start shifts', () => {
    const plan = planDay(
      [ann, bob],
      [
        booking(call('far', 38, 480, 600), 'ann', 518),
        booking(call('near', 2, 480, 600), 'ann', 590),
        call('new', 41, 600, 720),
      ],
      line,
      effort,
    );
    expect(plan.changes).toEqual([
      { kind: 'shifted', stopId: 'near', fromStart: 590, start: 482 },
      {
        kind: 'reassigned',
        stopId: 'far',
        fromTechnicianId: 'ann',
        technicianId: 'bob',
        start: 482,
      },
      { kind: 'placed', stopId: 'new', technicianId: 'bob', start: 600 },
    ]);
    expect(plan).toMatchObject({ travelMinutes: 10, leftOut: [], late: [], beyondHours: [] });
  });

  it('nothing, where nothing changes', () => {
    const booked = booking(call('near', 2, 480, 600), 'ann', 482);
    expect(planDay([ann, bob], [booked], line, effort).changes).toEqual([]);
  });

  it.each([
    ['nobody has the skill', { ...call('x', 2, 480, 600), needs: ['gas_heat'] }, 'no_skill'],
    ['nobody brings a helper', { ...call('x', 2, 480, 600), helpers: 1 }, 'no_skill'],
    ['the window closes before anybody is there', call('x', 200, 480, 600), 'too_far'],
    ['the day is full', call('x', 2, 480, 500), 'no_time'],
    ['the window lies outside the hours', call('x', 2, 1_080, 1_200), 'no_time'],
    ['the work is longer than the day', call('x', 2, 480, 600, 700), 'no_time'],
  ])('why a stop is left out: %s', (_, left, why) => {
    const full = booking(call('long', 1, 480, 490, 530), 'ann', 481);
    const plan = planDay([ann], [full, left], line, effort);
    expect(plan.leftOut).toEqual([{ stopId: 'x', why }]);
  });

  it('leaves out the least weight, not the most stops', () => {
    const heavy = { ...call('heavy', 1, 480, 480 + 60, 500), weight: 3 };
    const light = [call('one', 1, 480, 700, 200), call('two', 1, 480, 700, 200)];
    const plan = planDay([ann], [heavy, ...light], line, effort);
    expect(plan.leftOut.map(({ stopId }) => stopId)).toEqual(['one', 'two']);
  });
});

describe('where the promises cannot all be kept, a plan', () => {
  it('hands over what another can do in time, and is late nowhere', () => {
    const plan = planDay(
      [ann, bob],
      [
        booking(call('a', 2, 480, 500, 120), 'ann', 482),
        booking(call('b', 3, 480, 520, 120), 'ann', 603),
      ],
      line,
      effort,
    );
    expect(plan).toMatchObject({ late: [], leftOut: [] });
    expect(plan.changes).toMatchObject([{ kind: 'reassigned', stopId: 'b', technicianId: 'bob' }]);
  });

  it('leaves no promise out, is late by as little as it can, and says where', () => {
    const stops = [
      booking(call('long', 1, 480, 560, 120), 'ann', 481),
      booking(call('short', 1, 480, 500, 30), 'ann', 601),
      // Never at the cost of a promise.
      call('new', 1, 480, 500, 30),
    ];
    const plan = planDay([ann], stops, line, effort);
    // The short one first, both are in time; the new one fits nowhere before its window closes.
    expect(plan.late).toEqual([]);
    expect(plan.leftOut).toEqual([{ stopId: 'new', why: 'no_time' }]);
    const tighter = stops.map((each) => (each.id === 'long' ? { ...each, latest: 505 } : each));
    const late = planDay([ann], tighter, line, effort);
    // Short first, long begins at 511 instead of 505; long first, short would begin at 601.
    expect(late.late).toEqual([{ stopId: 'long', lateMinutes: 6 }]);
    expect(late.leftOut).toEqual([{ stopId: 'new', why: 'no_time' }]);
  });

  it('works outside the hours before it breaks a promise, and says how long', () => {
    const plan = planDay(
      [ann],
      [booking(call('evening', 10, 900, 1_020, 90), 'ann', 1_000)].map((each) => ({
        ...each,
        earliest: 960,
      })),
      line,
      effort,
    );
    expect(plan).toMatchObject({
      late: [],
      leftOut: [],
      beyondHours: [{ stopId: 'evening', beyondMinutes: 30 }],
    });
  });

  it('is mostly late by the least there is, and hardly more where it is not', () => {
    const more = Array.from({ length: 200 }, (_, index) => {
      const day = tightDay(index + 1);
      const plan = planDay(day.crews, day.stops, cityRoad, effort);
      expect(faultsOfPlan(day, plan, cityRoad)).toEqual([]);
      expect(plan.leftOut).toEqual([]);
      const lateMinutes = plan.late.reduce((sum, each) => sum + each.lateMinutes, 0);
      return lateMinutes / leastLateness(day) - 1;
    });
    expect(Math.min(...more)).toBe(0);
    expect(more.filter((each) => each === 0).length).toBeGreaterThan(180);
    expect(Math.max(...more)).toBeLessThan(0.2);
  });

  it('keeps a promise with the technician who has it, though another might be asked for', () => {
    const stop = { ...booking(call('a', 2, 480, 500), 'ann', 482), needs: ['gas_heat'] };
    expect(planDay([ann, bob], [stop], line, effort)).toMatchObject({ leftOut: [], changes: [] });
    expect(planDay([bob], [stop], line, effort).leftOut).toEqual([
      { stopId: 'a', why: 'no_skill' },
    ]);
  });

  it('refuses a day whose work under way has no technician', () => {
    const stray = { ...booking(call('a', 2, 480, 500), 'zoe', 482), pinnedStart: 482 };
    expect(() => planDay([ann], [stray], line, effort)).toThrow(RangeError);
  });
});

it('a broken plan does not pass for a good one', () => {
  const size = { crews: 2, stops: 8, miles: 30, minutes: [30, 90], bookedPercent: 60 } as const;
  const day = randomDay(11, size);
  const plan = planDay(day.crews, day.stops, cityRoad, effort);
  expect(faultsOfPlan(day, plan, cityRoad)).toEqual([]);
  const [first, ...others] = plan.routes;
  if (first === undefined) throw new Error('This day has technicians.');
  const broken: DayPlan[] = [
    { ...plan, routes: [{ ...first, stops: first.stops.toReversed() }, ...others] },
    { ...plan, routes: [{ ...first, stops: first.stops.slice(1) }, ...others] },
    { ...plan, changes: plan.changes.slice(1) },
    { ...plan, travelMinutes: plan.travelMinutes - 1 },
  ];
  for (const each of broken) expect(faultsOfPlan(day, each, cityRoad)).not.toEqual([]);
});

function shuffled<T>(list: readonly T[]): fc.Arbitrary<T[]> {
  return fc.shuffledSubarray([...list], { minLength: list.length, maxLength: list.length });
}

function isPromised({ stops }: Day, stopId: string): boolean {
  return stops.some(({ id, promised }) => id === stopId && promised);
}

function presentTravel({ crews, stops }: Day): number {
  return crews
    .map((crew) => runRoute(crew, presentOf(crew, stops), cityRoad).travelMinutes)
    .reduce((sum, each) => sum + each, 0);
}

/** The booked stops of a technician as they are planned now, what is under way first. */
function presentOf({ technicianId }: Crew, stops: readonly Stop[]): Stop[] {
  return stops
    .filter((stop) => stop.promised && stop.technicianId === technicianId)
    .sort((one, other) => (one.plannedStart ?? 0) - (other.plannedStart ?? 0));
}

/** The same day at a minute of it, had all gone as planned until then. */
function dayAt({ crews, stops }: Day, now: number): Day {
  const days = crews.map((crew) => {
    const run = runRoute(crew, presentOf(crew, stops), cityRoad);
    const inOrder = presentOf(crew, stops).map((stop, position) => {
      const own = run.stops[position];
      return { ...stop, progress: progressOf(own, now) };
    });
    return asItStands({ crew, stops: inOrder }, now, cityRoad);
  });
  return {
    crews: days.map(({ crew }) => crew),
    stops: [...days.flatMap((day) => day.stops), ...stops.filter(({ promised }) => !promised)],
  };
}

function progressOf(
  own:
    | {
        readonly driveMinutes: number;
        readonly arrival: number;
        readonly start: number;
        readonly end: number;
      }
    | undefined,
  now: number,
): Progress {
  if (own === undefined) return { kind: 'booked' };
  if (own.end <= now) return { kind: 'finished', start: own.start, end: own.end };
  if (own.start <= now) return { kind: 'on_site', since: own.start };
  const since = own.arrival - own.driveMinutes;
  return since <= now ? { kind: 'on_the_way', since } : { kind: 'booked' };
}

/** One technician or two, up to four promises with narrow windows that cannot all be kept. */
function tightDay(seed: number): Day {
  const size = {
    crews: 1 + (seed % 2),
    stops: 5,
    miles: 30,
    minutes: [60, 120],
    bookedPercent: 0,
  } as const;
  const { crews, stops } = randomDay(seed, size);
  return {
    crews: crews.map((crew) => ({ ...crew, hours: [{ from: dayFrom, to: dayFrom + 1_440 }] })),
    stops: stops.map((stop, index) => ({
      ...stop,
      needs: [],
      promised: true,
      earliest: dayFrom,
      latest: dayFrom + 60 + 10 * index,
      ...(crews[index % crews.length] === undefined
        ? {}
        : { technicianId: crews[index % crews.length]?.technicianId ?? '' }),
    })),
  };
}

/** Over every assignment and every order. */
function leastLateness({ crews, stops }: Day): number {
  const [first, ...rest] = stops;
  const partsOf = (left: readonly Stop[]): Stop[][][] => {
    const [next, ...others] = left;
    if (next === undefined) return [crews.map(() => [])];
    return partsOf(others).flatMap((parts) =>
      crews.map((_, at) => parts.map((part, index) => (index === at ? [next, ...part] : part))),
    );
  };
  if (first === undefined) return 0;
  return Math.min(
    ...partsOf([first, ...rest]).map((parts) =>
      crews
        .map((crew, index) =>
          Math.min(
            ...ordersOf(parts[index] ?? []).map((order) =>
              runRoute(crew, order, cityRoad).stops.reduce(
                (sum, each) => sum + each.lateMinutes,
                0,
              ),
            ),
          ),
        )
        .reduce((sum, each) => sum + each, 0),
    ),
  );
}

function ordersOf(stops: readonly Stop[]): Stop[][] {
  if (stops.length === 0) return [[]];
  return stops.flatMap((first) =>
    ordersOf(stops.filter((each) => each !== first)).map((rest) => [first, ...rest]),
  );
}
