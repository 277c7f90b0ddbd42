import { describe, expect, it } from 'vitest';
import { type Crew, hoursLeft, type Place, runRoute, type Stop } from '../../src/planning/index.ts';

// Along one meridian at a minute for a mile: a place is its miles north of the base.
const road = { roadFactor: 1, mph: 60, parkMinutes: 0 };
const milesNorth = (miles: number): Place => ({ latitudeDeg: miles / 69.0936, longitudeDeg: 0 });

const crew: Crew = {
  technicianId: 'ann',
  base: milesNorth(0),
  hours: [
    { from: 480, to: 720 },
    { from: 750, to: 1_020 },
  ],
  skills: [],
  helpers: 0,
};

function stop(id: string, miles: number, earliest: number, latest: number, minutes = 60): Stop {
  const place = milesNorth(miles);
  const nothing = { needs: [], helpers: 0, promised: true, weight: 1 };
  return { id, place, minutes, earliest, latest, ...nothing };
}

describe("a technician's day in a given order", () => {
  it('drives, waits for the window, works and drives home', () => {
    const route = runRoute(crew, [stop('a', 20, 480, 600), stop('b', 30, 600, 720)], road);
    expect(route).toEqual({
      technicianId: 'ann',
      stops: [
        {
          stopId: 'a',
          driveMinutes: 20,
          arrival: 500,
          waitMinutes: 0,
          start: 500,
          end: 560,
          lateMinutes: 0,
          beyondMinutes: 0,
        },
        {
          stopId: 'b',
          driveMinutes: 10,
          arrival: 570,
          waitMinutes: 30,
          start: 600,
          end: 660,
          lateMinutes: 0,
          beyondMinutes: 0,
        },
      ],
      travelMinutes: 60,
      homeAt: 690,
      isKept: true,
    });
  });

  it('does no work across a break: what does not fit before it waits for its end', () => {
    const [before, after] = runRoute(
      crew,
      [stop('a', 20, 480, 700, 160), stop('b', 20, 480, 800)],
      road,
    ).stops;
    expect([before?.start, before?.end]).toEqual([500, 660]);
    // 60 minutes end with the break's first minute, 61 do not.
    expect([after?.start, after?.end]).toEqual([660, 720]);
    const longer = runRoute(
      crew,
      [stop('a', 20, 480, 700, 160), stop('b', 20, 480, 800, 61)],
      road,
    );
    expect(longer.stops[1]).toMatchObject({ arrival: 660, waitMinutes: 90, start: 750, end: 811 });
    expect(longer.isKept).toBe(true);
  });

  it('says how late each stop begins, and how much of its work lies outside the hours', () => {
    const route = runRoute(
      crew,
      [stop('a', 60, 480, 500, 180), stop('b', 60, 480, 900, 200), stop('c', 60, 480, 1_000, 90)],
      road,
    );
    expect(route.stops).toMatchObject([
      { start: 540, lateMinutes: 40, beyondMinutes: 0 },
      { start: 750, lateMinutes: 0, beyondMinutes: 0 },
      // Forty minutes too long for the evening: it begins on arrival.
      { start: 950, end: 1_040, lateMinutes: 0, beyondMinutes: 20 },
    ]);
    expect(route).toMatchObject({ isKept: false, travelMinutes: 120, homeAt: 1_100 });
  });

  it('takes what is pinned as it is, and leaves for the rest when the hours left begin', () => {
    const now = { ...crew, hours: hoursLeft(crew.hours, 600) };
    const pinned = { ...stop('a', 20, 480, 490, 30), pinnedStart: 495 };
    const route = runRoute(now, [pinned, stop('b', 30, 480, 720)], road);
    expect(route.stops).toMatchObject([
      { arrival: 495, start: 495, end: 525, lateMinutes: 5, beyondMinutes: 0 },
      { arrival: 610, start: 610 },
    ]);
  });

  it('of a day without hours or stops tells what there is', () => {
    expect(runRoute(crew, [], road)).toEqual({
      technicianId: 'ann',
      stops: [],
      travelMinutes: 0,
      isKept: true,
    });
    const off = runRoute({ ...crew, hours: [] }, [stop('a', 20, 480, 600)], road);
    expect(off).toMatchObject({ isKept: false, stops: [{ start: 480, beyondMinutes: 60 }] });
    expect(hoursLeft(crew.hours, 700)).toEqual([
      { from: 700, to: 720 },
      { from: 750, to: 1_020 },
    ]);
    expect(hoursLeft(crew.hours, 1_020)).toEqual([{ from: 1_020, to: 1_020 }]);
  });

  it.each([
    ['two stops of one id', crew, [stop('a', 1, 480, 500), stop('a', 2, 480, 500)]],
    ['work of no time', crew, [stop('a', 1, 480, 500, 0)]],
    ['a window that closes before it opens', crew, [stop('a', 1, 500, 480)]],
    ['hours out of order', { ...crew, hours: crew.hours.toReversed() }, []],
  ])('refuses %s', (_, given, stops) => {
    expect(() => runRoute(given, stops, road)).toThrow(RangeError);
  });
});
