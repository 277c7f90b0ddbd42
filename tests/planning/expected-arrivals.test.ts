import { describe, expect, it } from 'vitest';
import {
  asItStands,
  type Crew,
  type DayNow,
  expectedArrivals,
  type Place,
  type Progress,
  type Stop,
} from '../../src/planning/index.ts';

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

function stop(id: string, miles: number, earliest: number, latest: number): Stop {
  const place = milesNorth(miles);
  const nothing = { needs: [], helpers: 0, promised: true, weight: 1 };
  return { id, place, minutes: 60, earliest, latest, ...nothing };
}

const first = stop('first', 10, 480, 540);
const second = stop('second', 20, 540, 600);
const third = stop('third', 30, 600, 680);

function dayNow(...progress: readonly Progress[]): DayNow {
  return {
    crew: ann,
    stops: [first, second, third].map((each, index) => ({
      ...each,
      progress: progress[index] ?? { kind: 'booked' },
    })),
  };
}

const late = (arrival: number, lateMinutes: number, start = arrival) => ({
  arrival,
  start,
  lateMinutes,
});

describe('what is to be expected of the rest of a day', () => {
  it.each<[string, DayNow, number, object[]]>([
    [
      'before it begins, as it was planned',
      dayNow(),
      450,
      [
        { stopId: 'first', ...late(490, 0), ifOver: late(490, 0) },
        { stopId: 'second', ...late(560, 0), ifOver: late(590, 0) },
        { stopId: 'third', ...late(630, 0), ifOver: late(660, 0) },
      ],
    ],
    [
      'with nobody on the way at nine, from now',
      dayNow(),
      540,
      [
        { stopId: 'first', ...late(550, 10), ifOver: late(550, 10) },
        { stopId: 'second', ...late(620, 20), ifOver: late(650, 50) },
        { stopId: 'third', ...late(690, 10), ifOver: late(720, 40) },
      ],
    ],
    [
      'on the way, after the usual drive; work runs over, not the drive',
      dayNow({ kind: 'on_the_way', since: 500 }),
      505,
      [
        { stopId: 'first', ...late(510, 0), ifOver: late(510, 0) },
        { stopId: 'second', ...late(580, 0), ifOver: late(610, 10) },
        { stopId: 'third', ...late(650, 0), ifOver: late(680, 0) },
      ],
    ],
    [
      'on the way for longer than the drive takes, now',
      dayNow({ kind: 'on_the_way', since: 500 }),
      530,
      [
        { stopId: 'first', ...late(530, 0), ifOver: late(530, 0) },
        { stopId: 'second', ...late(600, 0), ifOver: late(630, 30) },
        { stopId: 'third', ...late(670, 0), ifOver: late(700, 20) },
      ],
    ],
    [
      'on site, after the minutes planned',
      dayNow({ kind: 'on_site', since: 500 }),
      520,
      [
        { stopId: 'second', ...late(570, 0), ifOver: late(600, 0) },
        { stopId: 'third', ...late(640, 0), ifOver: late(670, 0) },
      ],
    ],
    [
      'on site for longer than planned, from now',
      dayNow({ kind: 'on_site', since: 500 }),
      590,
      [
        { stopId: 'second', ...late(600, 0), ifOver: late(630, 30) },
        { stopId: 'third', ...late(670, 0), ifOver: late(700, 20) },
      ],
    ],
    [
      'early, waiting for the window',
      dayNow({ kind: 'finished', start: 490, end: 500 }),
      505,
      [
        { stopId: 'second', ...late(515, 0, 540), ifOver: late(515, 0, 540) },
        { stopId: 'third', ...late(610, 0), ifOver: late(640, 0) },
      ],
    ],
    [
      'nothing, when all is done',
      dayNow(
        { kind: 'finished', start: 490, end: 550 },
        { kind: 'finished', start: 560, end: 620 },
        { kind: 'on_site', since: 630 },
      ),
      640,
      [],
    ],
  ])('%s', (_, day, now, expected) => {
    expect(expectedArrivals(day, now, line, 30)).toEqual(expected);
  });

  it('goes on past the hours, for what was promised is owed', () => {
    const evening = stop('evening', 10, 960, 1_010);
    const day: DayNow = { crew: ann, stops: [{ ...evening, progress: { kind: 'booked' } }] };
    expect(expectedArrivals(day, 1_030, line)).toMatchObject([{ start: 1_040, lateMinutes: 30 }]);
  });
});

describe('a day as it stands', () => {
  it('pins what is finished or in hand, and keeps the hours that are left', () => {
    const day = dayNow({ kind: 'finished', start: 490, end: 540 }, { kind: 'on_site', since: 555 });
    const { crew, stops } = asItStands(day, 600, line);
    expect(crew.hours).toEqual([{ from: 600, to: 1_020 }]);
    expect(stops).toEqual([
      { ...first, pinnedStart: 490, minutes: 50 },
      { ...second, pinnedStart: 555, minutes: 60 },
      third,
    ]);
  });
});
