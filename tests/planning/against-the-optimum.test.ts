import { describe, expect, it } from 'vitest';
import { planDay } from '../../src/planning/index.ts';
import { exactDay } from './exact-day.ts';
import { exactOf } from './exact-of.ts';
import { faultsOfPlan } from './faults-of-plan.ts';
import { cityRoad, type Day, randomDay } from './random-day.ts';

const days = Array.from({ length: 500 }, (_, index) =>
  randomDay(index + 1, {
    crews: 2 + (index % 2),
    stops: 9,
    miles: 30,
    minutes: [30, 120],
    // Half of the days begin empty, half with most of the stops promised already.
    bookedPercent: index % 4 < 2 ? 0 : 60,
  }),
);

describe('five hundred days of nine stops, two or three technicians, windows and skills', () => {
  it('serve what the optimum serves, break no promise, and drive hardly longer', () => {
    const found = days.map((day) => againstOptimum(day));
    expect(found.flatMap(({ faults }) => faults)).toEqual([]);
    expect(found.filter(({ lateMinutes }) => lateMinutes > 0)).toEqual([]);
    expect(found.filter(({ moreLeftOut }) => moreLeftOut !== 0)).toEqual([]);
    // Below zero a rule of the day would have been broken.
    expect(Math.min(...found.map(({ gap }) => gap))).toBe(0);
    expect(mean(found.map(({ gap }) => gap))).toBeLessThan(0.005);
    // And the days are worth the trial: some serve all, some cannot.
    expect(found.filter(({ leavesOut }) => leavesOut).length).toBeGreaterThan(100);
    expect(found.filter(({ leavesOut }) => !leavesOut).length).toBeGreaterThan(100);
    expect(
      days.flatMap(({ stops }) => stops).filter(({ promised }) => promised).length,
    ).toBeGreaterThan(1_000);
  }, 300_000);
});

function againstOptimum(day: Day) {
  const optimum = exactDay(exactOf(day, cityRoad));
  if (optimum === undefined) throw new Error('What is booked was kept, so a plan exists.');
  const plan = planDay(day.crews, day.stops, cityRoad, { seed: 1, rounds: 1_000 });
  const leftOut = new Set(plan.leftOut.map(({ stopId }) => stopId));
  const leftOutWeight = day.stops
    .filter(({ id }) => leftOut.has(id))
    .reduce((sum, { weight }) => sum + weight, 0);
  return {
    faults: faultsOfPlan(day, plan, cityRoad),
    lateMinutes: plan.late.reduce((sum, { lateMinutes }) => sum + lateMinutes, 0),
    moreLeftOut: leftOutWeight - optimum.leftOutWeight,
    gap: plan.travelMinutes / optimum.travelMinutes - 1,
    leavesOut: optimum.leftOutWeight > 0,
  };
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, each) => sum + each, 0) / values.length;
}
