import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type BookedDay,
  bestWindows,
  type Crew,
  type Place,
  type Road,
  runRoute,
  type Span,
  type Stop,
  type WindowOffer,
  type WindowRequest,
} from '../../src/planning/index.ts';
import { cityRoad, dayFrom, randomDay } from './random-day.ts';

// Along one meridian at a minute for a mile: a place is its miles north of the base.
const line = { roadFactor: 1, mph: 60, parkMinutes: 0 };
const milesNorth = (miles: number): Place => ({ latitudeDeg: miles / 69.0936, longitudeDeg: 0 });

const crew = (technicianId: string, miles: number): Crew => ({
  technicianId,
  base: milesNorth(miles),
  hours: [{ from: 480, to: 1_020 }],
  skills: [],
  helpers: 0,
});

function booked(id: string, miles: number, { from, to }: Span, minutes: number): Stop {
  const place = milesNorth(miles);
  const nothing = { needs: [], helpers: 0, promised: true, weight: 1 };
  return { id, place, minutes, earliest: from, latest: to, ...nothing };
}

const morning: Span = { from: 480, to: 600 };
const noon: Span = { from: 600, to: 720 };

const request: WindowRequest = {
  id: 'new',
  place: milesNorth(20),
  minutes: 60,
  needs: [],
  helpers: 0,
  urgency: 'usual',
};

describe('the best arrival windows', () => {
  it('tell from whom to whom, what it adds, who waits, and how much slack is left', () => {
    const day: BookedDay = {
      crew: crew('ann', 0),
      stops: [booked('before', 10, morning, 30), booked('after', 30, { from: 600, to: 640 }, 60)],
    };
    expect(bestWindows(request, [day], [morning, noon], line)).toEqual([
      // Neither adds any drive; this one has more slack.
      {
        technicianId: 'ann',
        window: noon,
        plannedStart: 670,
        plannedEnd: 730,
        addedTravelMinutes: 0,
        driveThereMinutes: 10,
        afterStopId: 'after',
        driveOnMinutes: 20,
        waitMinutes: 0,
        slackMinutes: 50,
        shifts: [
          { stopId: 'before', start: 490 },
          { stopId: 'after', start: 600 },
        ],
      },
      {
        technicianId: 'ann',
        window: morning,
        // Ten miles, half an hour of work, ten miles.
        plannedStart: 530,
        plannedEnd: 590,
        addedTravelMinutes: 0,
        driveThereMinutes: 10,
        afterStopId: 'before',
        driveOnMinutes: 10,
        beforeStopId: 'after',
        waitMinutes: 0,
        // It may begin at 570, so that the next begins at 640.
        slackMinutes: 40,
        shifts: [
          { stopId: 'before', start: 490 },
          { stopId: 'after', start: 600 },
        ],
      },
    ]);
  });

  it('usually begin with the least drive, even if that is later', () => {
    const near = { crew: crew('near', 20), stops: [booked('x', 20, { from: 480, to: 480 }, 120)] };
    const far = { crew: crew('far', 0), stops: [] };
    expect(briefly(bestWindows(request, [far, near], [morning, noon], line))).toEqual([
      // No drive at all; the second could slip two hours, the first not a minute.
      ['near', noon.from, 600],
      ['near', morning.from, 600],
      // Forty minutes of drive, slack enough in both: the earlier first.
      ['far', morning.from, 500],
      ['far', noon.from, 600],
    ]);
  });

  it('begin with the soonest for somebody who must not wait', () => {
    const near = { crew: crew('near', 20), stops: [booked('x', 20, { from: 480, to: 480 }, 120)] };
    const far = { crew: crew('far', 0), stops: [] };
    const soonest: WindowRequest = { ...request, urgency: 'soonest' };
    expect(bestWindows(soonest, [near, far], [morning, noon], line)[0]).toMatchObject({
      technicianId: 'far',
      plannedStart: 500,
    });
  });

  it.each([
    ['no skill', { ...request, needs: ['gas_heat'] }, [morning]],
    ['no helper', { ...request, helpers: 1 }, [morning]],
    ['no hours in any window', request, [{ from: 1_100, to: 1_200 }]],
    ['no time to be there', { ...request, place: milesNorth(200) }, [morning]],
    ['no window at all', request, []],
  ])('are none where there is %s', (_, asked, windows) => {
    expect(bestWindows(asked, [{ crew: crew('ann', 0), stops: [] }], windows, line)).toEqual([]);
  });

  it('make nobody later than they are already', () => {
    const late = { ...booked('late', 10, { from: 480, to: 500 }, 30), pinnedStart: 540 };
    const later = booked('later', 20, { from: 480, to: 560 }, 30);
    const day = { crew: crew('ann', 0), stops: [late, later] };
    expect(runRoute(day.crew, day.stops, line).stops[1]).toMatchObject({
      start: 580,
      lateMinutes: 20,
    });
    const offers = bestWindows(request, [day], [morning, noon], line);
    expect(offers).toMatchObject([{ afterStopId: 'later', plannedStart: 610, window: noon }]);
  });

  it('can be booked as they are told: nothing else is broken, and the slack is exact', () => {
    fc.assert(
      fc.property(anyBoard, ({ asked, days, windows }) => {
        for (const offer of bestWindows(asked, days, windows, cityRoad)) {
          const day = days.find(({ crew: own }) => own.technicianId === offer.technicianId);
          if (day === undefined) throw new Error('An offer of nobody.');
          const run = runRoute(day.crew, withOffer(day, asked, offer), cityRoad);
          expect(run.isKept).toBe(true);
          const own = run.stops.find(({ stopId }) => stopId === asked.id);
          expect(own).toMatchObject({
            start: offer.plannedStart,
            end: offer.plannedEnd,
            waitMinutes: offer.waitMinutes,
            driveMinutes: offer.driveThereMinutes,
          });
          const before = runRoute(day.crew, day.stops, cityRoad);
          expect(run.travelMinutes - before.travelMinutes).toBe(offer.addedTravelMinutes);
          const starts = new Map(run.stops.map(({ stopId, start }) => [stopId, start]));
          for (const { stopId, start } of offer.shifts) expect(starts.get(stopId)).toBe(start);
          const delayed = (minutes: number) => {
            const earliest = offer.plannedStart + minutes;
            if (earliest > offer.window.to) return false;
            const stops = withOffer(day, asked, offer).map((stop) =>
              stop.id === asked.id ? { ...stop, earliest } : stop,
            );
            const { stops: told, isKept } = runRoute(day.crew, stops, cityRoad);
            return (
              isKept && told.some(({ stopId, start }) => stopId === asked.id && start === earliest)
            );
          };
          expect(delayed(offer.slackMinutes)).toBe(true);
          expect(delayed(offer.slackMinutes + 1)).toBe(false);
        }
      }),
      { numRuns: 150 },
    );
  });

  it('are all there are, each with the least drive any place in the day allows', () => {
    fc.assert(
      fc.property(anyBoard, ({ asked, days, windows }) => {
        const offers = bestWindows(asked, days, windows, cityRoad);
        const found = new Map(
          offers.map((offer) => [
            keyOf(offer.technicianId, offer.window),
            offer.addedTravelMinutes,
          ]),
        );
        const expected = new Map(
          days.flatMap((day) =>
            windows.flatMap((window) => {
              const least = leastAdded(day, asked, window, cityRoad);
              return least === undefined
                ? []
                : [[keyOf(day.crew.technicianId, window), least] as const];
            }),
          ),
        );
        expect(found).toEqual(expected);
        expect(offers).toHaveLength(found.size);
      }),
      { numRuns: 150 },
    );
  });

  it('are ranked the same in whatever order days and windows are given', () => {
    fc.assert(
      fc.property(anyBoard, ({ asked, days, windows }) => {
        const offers = bestWindows(asked, days, windows, cityRoad);
        expect(bestWindows(asked, days.toReversed(), windows.toReversed(), cityRoad)).toEqual(
          offers,
        );
      }),
      { numRuns: 50 },
    );
  });
});

/** The day of a few technicians as it is booked, and one more call. */
const anyBoard = fc
  .record({
    seed: fc.integer({ min: 0, max: 2 ** 32 - 1 }),
    crews: fc.integer({ min: 1, max: 3 }),
    stops: fc.integer({ min: 0, max: 12 }),
    urgency: fc.constantFrom('usual' as const, 'soonest' as const),
  })
  .map(({ seed, crews: count, stops: calls, urgency }) => {
    const size = { crews: count, miles: 30, minutes: [20, 90], bookedPercent: 100 } as const;
    const { crews, stops } = randomDay(seed, { ...size, stops: calls + 1 });
    const { place, minutes, needs } = randomDay(seed + 1, { ...size, stops: 1 }).stops[0] ?? {
      place: milesNorth(0),
      minutes: 30,
      needs: [],
    };
    return {
      asked: { id: 'new', place, minutes, needs, helpers: 0, urgency },
      days: crews.map((own) => ({
        crew: own,
        stops: stops
          .filter(({ technicianId }) => technicianId === own.technicianId)
          .sort((one, other) => (one.plannedStart ?? 0) - (other.plannedStart ?? 0)),
      })),
      windows: [0, 120, 240, 360, 480].map((from) => ({
        from: dayFrom + from,
        to: dayFrom + from + 120,
      })),
    };
  });

function stopOf({ id, place, minutes, needs }: WindowRequest, { from, to }: Span): Stop {
  const own = { id, place, minutes, needs, helpers: 0, promised: true, weight: 1 };
  return { ...own, earliest: from, latest: to };
}

function withOffer({ stops }: BookedDay, asked: WindowRequest, offer: WindowOffer): Stop[] {
  const position = 1 + stops.findIndex(({ id }) => id === offer.afterStopId);
  return stops.toSpliced(position, 0, stopOf(asked, offer.window));
}

/** Every place in the day, one by one. */
function leastAdded(day: BookedDay, asked: WindowRequest, window: Span, road: Road) {
  if (!asked.needs.every((need) => day.crew.skills.includes(need))) return undefined;
  const before = runRoute(day.crew, day.stops, road).travelMinutes;
  const added = Array.from({ length: day.stops.length + 1 }, (_, position) => {
    const run = runRoute(day.crew, day.stops.toSpliced(position, 0, stopOf(asked, window)), road);
    return run.isKept ? [run.travelMinutes - before] : [];
  }).flat();
  return added.length === 0 ? undefined : Math.min(...added);
}

function keyOf(technicianId: string, { from }: Span): string {
  return `${technicianId} ${from}`;
}

function briefly(offers: readonly WindowOffer[]) {
  return offers.map(({ technicianId, window, plannedStart }) => [
    technicianId,
    window.from,
    plannedStart,
  ]);
}
