import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type ExactDay, exactDay } from './exact-day.ts';

const minutesOfRoad = fc.integer({ min: 0, max: 60 });

/** Small enough to try everything: up to five stops, two technicians, one of them with a break. */
const smallDay: fc.Arbitrary<ExactDay> = fc.integer({ min: 1, max: 5 }).chain((count) => {
  const row = fc.array(minutesOfRoad, { minLength: count, maxLength: count });
  const stop = fc
    .record({
      minutes: fc.integer({ min: 10, max: 150 }),
      earliest: fc.integer({ min: 0, max: 420 }),
      width: fc.integer({ min: 0, max: 240 }),
      weight: fc.integer({ min: 1, max: 3 }),
      isMust: fc.integer({ min: 0, max: 3 }).map((die) => die === 0),
      technicians: fc.constantFrom([0], [1], [0, 1], [0, 1]),
    })
    .map(({ width, ...each }) => ({ ...each, latest: each.earliest + width }));
  return fc.record({
    stops: fc.array(stop, { minLength: count, maxLength: count }),
    hours: fc.constant([
      [
        { from: 0, to: 240 },
        { from: 300, to: 600 },
      ],
      [{ from: 0, to: 600 }],
    ]),
    fromBase: fc.tuple(row, row),
    toBase: fc.tuple(row, row),
    between: fc.array(row, { minLength: count, maxLength: count }),
  });
});

describe('the exact optimum the planner is held against', () => {
  it('is the best of all there is, where all there is can be tried one by one', () => {
    fc.assert(
      fc.property(smallDay, (day) => {
        expect(exactDay(day)).toEqual(bestOfEverything(day));
      }),
      { numRuns: 400 },
    );
  });

  it('serves two neighbors in one tour, and leaves out what does not fit, by hand', () => {
    const stop = { minutes: 60, earliest: 0, latest: 120, weight: 1, isMust: false };
    const day: ExactDay = {
      stops: [
        { ...stop, technicians: [0] },
        { ...stop, technicians: [0] },
        { ...stop, weight: 5, technicians: [0], earliest: 500, latest: 600 },
        { ...stop, technicians: [] },
      ],
      hours: [[{ from: 0, to: 200 }]],
      fromBase: [[20, 25, 1, 1]],
      toBase: [[20, 25, 1, 1]],
      between: [
        [0, 10, 1, 1],
        [10, 0, 1, 1],
        [1, 1, 0, 1],
        [1, 1, 1, 0],
      ],
    };
    // 20 there, 10 across, 25 home; five for the evening call, one for the call nobody can do.
    expect(exactDay(day)).toEqual({ leftOutWeight: 6, travelMinutes: 55 });
    expect(exactDay({ ...day, stops: day.stops.map((each) => ({ ...each, isMust: true })) })).toBe(
      undefined,
    );
  });
});

/** Every assignment of the stops to a technician or to nobody, and every order of each part. */
function bestOfEverything(day: ExactDay) {
  const count = day.stops.length;
  const choices = (day.hours.length + 1) ** count;
  let best: { leftOutWeight: number; travelMinutes: number } | undefined;
  for (let choice = 0; choice < choices; choice++) {
    const owners = Array.from(
      { length: count },
      (_, stop) => Math.floor(choice / (day.hours.length + 1) ** stop) % (day.hours.length + 1),
    );
    const left = day.stops.filter((_, stop) => owners[stop] === day.hours.length);
    if (left.some(({ isMust }) => isMust)) continue;
    const travelMinutes = day.hours
      .map((_, technician) => {
        const own = owners.flatMap((owner, stop) => (owner === technician ? [stop] : []));
        return Math.min(...ordersOf(own).map((order) => travelOf(day, technician, order)));
      })
      .reduce((sum, each) => sum + each, 0);
    if (travelMinutes === Number.POSITIVE_INFINITY) continue;
    const leftOutWeight = left.reduce((sum, { weight }) => sum + weight, 0);
    const isBetter =
      best === undefined ||
      leftOutWeight < best.leftOutWeight ||
      (leftOutWeight === best.leftOutWeight && travelMinutes < best.travelMinutes);
    if (isBetter) best = { leftOutWeight, travelMinutes };
  }
  return best;
}

function ordersOf(stops: readonly number[]): number[][] {
  if (stops.length === 0) return [[]];
  return stops.flatMap((first) =>
    ordersOf(stops.filter((each) => each !== first)).map((rest) => [first, ...rest]),
  );
}

/** Minute by minute: drives, then stands at the door until a minute comes at which it may begin. */
function travelOf(day: ExactDay, technician: number, order: readonly number[]): number {
  let now = 0;
  let travel = 0;
  let last: number | undefined;
  for (const stop of order) {
    const drive =
      (last === undefined ? day.fromBase[technician]?.[stop] : day.between[last]?.[stop]) ?? 0;
    now += drive;
    travel += drive;
    const work = day.stops[stop];
    if (work === undefined || !work.technicians.includes(technician)) {
      return Number.POSITIVE_INFINITY;
    }
    const mayBegin = (minute: number) =>
      minute >= work.earliest &&
      day.hours[technician]?.some(({ from, to }) => minute >= from && minute + work.minutes <= to);
    while (now <= work.latest && !mayBegin(now)) now++;
    if (now > work.latest) return Number.POSITIVE_INFINITY;
    now += work.minutes;
    last = stop;
  }
  return travel + (last === undefined ? 0 : (day.toBase[technician]?.[last] ?? 0));
}
