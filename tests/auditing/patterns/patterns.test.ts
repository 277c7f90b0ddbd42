import { describe, expect, it } from 'vitest';
import {
  type Dimension,
  type JobCount,
  type MeasureCode,
  type Pattern,
  patternsOf,
  type Tally,
  tallyJobs,
} from '../../../src/auditing/index.ts';
import { cents } from '../../../src/pricing/index.ts';
import { exactDrawn } from '../statistics/exact-chances.ts';
import { randomJobs } from './random-jobs.ts';

const plain: JobCount = {
  technicianId: 'A',
  callTakerId: null,
  taskCodes: [],
  partCategories: [],
  month: '2026-07',
  work: 'no_cooling',
  systemAgeYears: 3,
  answers: {},
  billedCents: cents(20_000),
};

/** So many jobs of somebody, on so many of which it happened. */
function jobs(
  measure: MeasureCode,
  count: number,
  trials: number,
  changes: Partial<JobCount>,
): JobCount[] {
  return Array.from({ length: trials }, (_, at) => ({
    ...plain,
    ...changes,
    answers: { [measure]: at < count },
  }));
}

function rowsOf(patterns: readonly Pattern[], measure: MeasureCode) {
  return patterns.find((pattern) => pattern.measure === measure)?.rows ?? [];
}

const standing = (patterns: readonly Pattern[], measure: MeasureCode) =>
  rowsOf(patterns, measure)
    .filter((row) => row.standing === 'stands_out')
    .map(({ subject }) => subject);

/** Resets billed as repairs by six technicians, 35 of 244 together. */
const six = (
  [
    ['A', 2, 40],
    ['B', 5, 38],
    ['C', 3, 44],
    ['D', 12, 36],
    ['E', 4, 41],
    ['F', 9, 45],
  ] as const
).flatMap(([technicianId, count, trials]) => jobs('reset_billed', count, trials, { technicianId }));

describe('what many jobs have in common', () => {
  const [d] = rowsOf(patternsOf([tallyJobs(six, 'technician')]), 'reset_billed').filter(
    ({ subject }) => subject === 'D',
  );

  it('of six technicians D alone stands out, and the owner is asked for a look', () => {
    expect(standing(patternsOf([tallyJobs(six, 'technician')]), 'reset_billed')).toEqual(['D']);
    // All ways in which 12 or more of the 35 may fall into D's 36 of 244 jobs; the least of six.
    const exact = Array.from({ length: 25 }, (_, at) => exactDrawn(12 + at, 244, 35, 36));
    expect(d?.adjustedChance).toBeCloseTo(6 * exact.reduce((sum, each) => sum + each, 0), 12);
    // The others' 23 of 208: 36 x 23 / 208 = 3.98.
    expect(d?.sentence).toBe(
      'A reset was billed as a repair: 12 of 36 jobs with a reset. The others come to 4.0 on the same mix of jobs. Please look at the files of these jobs; there may be a good reason.',
    );
  });

  it('a share has its interval: 12 of 36 lies from 0.202 to 0.497', () => {
    // Wilson's interval with z = 1.959964, by a pocket calculator:
    // (12/36 + 3.84146/72 +- 1.959964 x sqrt(0.2222/36 + 3.84146/5184)) / (1 + 3.84146/36)
    expect(d?.share?.low).toBeCloseTo(0.2021, 3);
    expect(d?.share?.high).toBeCloseTo(0.4967, 3);
  });

  it('D lies outside even the outer limits of the funnel of the others, A inside the inner ones', () => {
    const rows = rowsOf(patternsOf([tallyJobs(six, 'technician')]), 'reset_billed');
    const [a] = rows;
    expect(12 / 36).toBeGreaterThan(d?.funnel?.outer.high ?? 1);
    expect(d?.funnel?.outer.high ?? 0).toBeGreaterThan(d?.funnel?.inner.high ?? 1);
    expect(2 / 40).toBeLessThan(a?.funnel?.inner.high ?? 0);
    expect(2 / 40).toBeGreaterThan(a?.funnel?.outer.low ?? 1);
  });

  it('more of the good is told as praise', () => {
    const good = six.map((job) => ({
      ...job,
      answers: { cause_found: job.answers.reset_billed === true },
    }));
    const rows = rowsOf(patternsOf([tallyJobs(good, 'technician')]), 'cause_found');
    expect(rows.find(({ subject }) => subject === 'D')?.sentence).toBe(
      'The cause behind a reset was found: 12 of 36 jobs with a reset. The others come to 4.0 on the same mix of jobs. That is worth telling the others how it is done.',
    );
  });

  it('says that few jobs are too few', () => {
    const few = [...six, ...jobs('reset_billed', 9, 9, { technicianId: 'new' })];
    const rows = rowsOf(patternsOf([tallyJobs(few, 'technician')]), 'reset_billed');
    expect(rows.at(-1)).toMatchObject({
      standing: 'not_enough_data',
      chance: null,
      sentence:
        'A reset was billed as a repair: 9 of 9 jobs with a reset. That is too few to say anything.',
    });
  });

  it('counts every job of somebody, and says where nobody else had such jobs', () => {
    const alone = patternsOf([
      tallyJobs(jobs('reset_billed', 1, 12, { technicianId: 'A' }), 'technician'),
    ]);
    expect(rowsOf(alone, 'reset_billed')[0]).toMatchObject({
      ownCount: 1,
      ownTrials: 12,
      trials: 0,
    });
    expect(rowsOf(alone, 'reset_billed')[0]?.sentence).toBe(
      'A reset was billed as a repair: 1 of 12 jobs with a reset. None of them can be compared with those of others.',
    );
  });

  it('says which jobs were compared where others did only some of the kinds', () => {
    const of = (technicianId: string, work: JobCount['work'], count: number, trials: number) =>
      jobs('reset_billed', count, trials, { technicianId, work });
    const sentences = (comparable: number) =>
      rowsOf(
        patternsOf([
          tallyJobs(
            [
              ...of('A', 'no_cooling', 1, comparable),
              ...of('A', 'no_heat', 2, 30),
              ...of('B', 'no_cooling', 2, 40),
            ],
            'technician',
          ),
        ]),
        'reset_billed',
      ).map(({ sentence }) => sentence);
    expect(sentences(20)[0]).toBe(
      'A reset was billed as a repair: 1 of 20 jobs with a reset that others did too. The others come to 1.0 on the same mix of jobs.',
    );
    expect(sentences(4)[0]).toBe(
      'A reset was billed as a repair: 3 of 34 jobs with a reset. Only 4 of them can be compared with those of others: too few to say anything.',
    );
  });

  it('never uses a word of blame', () => {
    const all = patternsOf([tallyJobs(six, 'technician'), tallyJobs(six, 'month')]);
    const sentences = all.flatMap(({ rows }) => rows.map(({ sentence }) => sentence)).join(' ');
    expect(sentences).not.toMatch(/fraud|cheat|guilt|steal|dishonest|suspect|crime|invent/i);
  });

  it('nobody is blamed for old systems, nor for the season', () => {
    const home = (technicianId: string, old: number, young: number) => [
      ...jobs('came_back', old * 0.4, old, { technicianId, systemAgeYears: 14 }),
      ...jobs('came_back', young * 0.1, young, { technicianId, systemAgeYears: 2 }),
    ];
    const all = ['a', 'b', 'c', 'd'].flatMap((name) => home(name, 20, 80));
    const oldOnly = home('last', 100, 0);
    expect(
      standing(patternsOf([tallyJobs([...all, ...oldOnly], 'technician')]), 'came_back'),
    ).toEqual([]);
    const unaged = [...all, ...oldOnly].map((job) => ({ ...job, systemAgeYears: null }));
    expect(standing(patternsOf([tallyJobs(unaged, 'technician')]), 'came_back')).toEqual(['last']);
  });

  it('a task is counted where it was the only one, and so is a kind of part', () => {
    const two = jobs('came_back', 5, 9, { taskCodes: ['replace_contactor', 'replace_filter'] });
    const one = jobs('came_back', 4, 12, { taskCodes: ['replace_contactor', 'replace_contactor'] });
    const other = jobs('came_back', 1, 12, { taskCodes: ['replace_filter'] });
    const rows = rowsOf(patternsOf([tallyJobs([...two, ...one, ...other], 'task')]), 'came_back');
    expect(rows.map(({ subject, trials, count }) => [subject, trials, count])).toEqual([
      ['replace_contactor', 12, 4],
      ['replace_filter', 12, 1],
    ]);
    const parts = tallyJobs(
      [...jobs('came_back', 1, 11, { partCategories: ['contactor'] }), ...two],
      'part_category',
    );
    expect([...(parts.counts.get('came_back')?.keys() ?? [])]).toEqual(['contactor']);
  });

  it('a month is compared with all the others, whatever the season', () => {
    const year = Array.from({ length: 12 }, (_, at) => `2026-${String(at + 1).padStart(2, '0')}`);
    const all = year.flatMap((month) =>
      jobs('unproven', month === '2026-11' ? 14 : 2, 40, { month }),
    );
    expect(standing(patternsOf([tallyJobs(all, 'month')]), 'unproven')).toEqual(['2026-11']);
  });

  it('a job that it could not have happened on is not counted', () => {
    const tally = tallyJobs([...six, plain, { ...plain, technicianId: null }], 'technician');
    expect(totalOf(tally, 'reset_billed')).toBe(244);
    expect(totalOf(tally, 'dearest_taken')).toBe(0);
  });

  it('everything on one page is adjusted for everything on it, praise apart', () => {
    const alone = patternsOf([tallyJobs(six, 'technician')]);
    const quiet = ['A', 'B', 'C', 'D', 'E', 'F'].flatMap((technicianId) =>
      jobs('unproven', 2, 40, { technicianId }),
    );
    const page = patternsOf([tallyJobs([...six, ...quiet], 'technician')]);
    const chanceOf = (patterns: readonly Pattern[]) =>
      rowsOf(patterns, 'reset_billed').find(({ subject }) => subject === 'D')?.adjustedChance;
    // Twelve were looked at instead of six.
    expect(chanceOf(page)).toBeCloseTo(2 * (chanceOf(alone) ?? 0), 12);
    // Praise stands apart: what asks for a look changes nothing of it.
    const good = six.map((job) => ({
      ...job,
      answers: { cause_found: job.answers.reset_billed === true },
    }));
    const praiseOf = (all: readonly JobCount[]) =>
      rowsOf(patternsOf([tallyJobs(all, 'technician')]), 'cause_found').map(
        ({ adjustedChance }) => adjustedChance,
      );
    expect(praiseOf([...good, ...quiet])).toEqual(praiseOf(good));
    // But less of the good asks for a look, so those six were looked at with the others.
    const both = patternsOf([tallyJobs([...six, ...good], 'technician')]);
    expect(chanceOf(both)).toBeCloseTo(2 * (chanceOf(alone) ?? 0), 12);
  });

  it('clearly less of the good than the others have is told, in words that accuse nobody', () => {
    const all = ['A', 'B', 'C', 'D', 'E'].flatMap((technicianId) =>
      jobs('proven', 45, 50, { technicianId }),
    );
    const less = jobs('proven', 30, 50, { technicianId: 'F' });
    const rows = rowsOf(patternsOf([tallyJobs([...all, ...less], 'technician')]), 'proven');
    expect(rows.map(({ subject, standing: how }) => `${subject} ${how}`)).toEqual([
      ...['A', 'B', 'C', 'D', 'E'].map((name) => `${name} like_others`),
      'F fewer_than_others',
    ]);
    // All ways in which 30 or fewer of the 255 may fall into F's 50 of 300 jobs; the least of six.
    const exact = Array.from({ length: 31 }, (_, at) => exactDrawn(at, 300, 255, 50));
    const f = rows.at(-1);
    expect(f?.adjustedChanceOfFewer).toBeCloseTo(6 * exact.reduce((sum, one) => sum + one, 0), 12);
    expect(f?.sentence).toBe(
      'Everything billed was proven by readings: 30 of 50 jobs with work billed. The others come to 45.0 on the same mix of jobs. Please ask what stands in the way: time, an instrument, a part, or jobs of another kind.',
    );
  });

  it('less of what should not be is no matter, and neither is a little less of the good', () => {
    const all = (measure: MeasureCode, count: number) => [
      ...['A', 'B', 'C', 'D', 'E'].flatMap((technicianId) =>
        jobs(measure, 45, 50, { technicianId }),
      ),
      ...jobs(measure, count, 50, { technicianId: 'F' }),
    ];
    for (const jobsOf of [all('reset_billed', 10), all('proven', 42)]) {
      const rows = patternsOf([tallyJobs(jobsOf, 'technician')]).flatMap((each) => each.rows);
      expect(rows.filter((row) => row.standing === 'fewer_than_others')).toEqual([]);
    }
  });
});

describe('a tally', () => {
  const some = [
    ...randomJobs(
      { technicians: 4, jobsEach: 300, often: { technicians: 0, times: 1 }, bent: [] },
      7,
    ),
  ];

  it.each(['technician', 'task', 'month'] satisfies Dimension[])(
    'by %s comes out alike in whatever order',
    (by) => {
      const whole = patternsOf([tallyJobs(some, by)]);
      expect(sorted(patternsOf([tallyJobs([...some].reverse(), by)]))).toEqual(sorted(whole));
    },
  );

  it('grows with technicians and kinds, not with jobs', () => {
    const company = { technicians: 4, often: { technicians: 0, times: 1 }, bent: [] };
    const cells = (jobsEach: number) =>
      cellCount(tallyJobs(randomJobs({ ...company, jobsEach }, 1), 'technician'));
    // 5 measures and the amounts, 4 technicians, 3 kinds of call x 3 seasons x 2 ages that occur.
    expect(cells(2_000)).toBeLessThanOrEqual(6 * 4 * 3 * 3 * 2);
    expect(cells(8_000)).toBe(cells(2_000));
  });
});

function totalOf({ counts }: Tally, measure: MeasureCode): number {
  const table = counts.get(measure) ?? new Map<string, Map<string, { trials: number }>>();
  return [...table.values()]
    .flatMap((kinds) => [...kinds.values()])
    .reduce((sum, { trials }) => sum + trials, 0);
}

function cellCount({ counts, amounts }: Tally): number {
  const tables = [...counts.values(), amounts];
  return tables.flatMap((table) => [...table.values()]).reduce((sum, kinds) => sum + kinds.size, 0);
}

/** Rows by name, and floating sums to twelve digits, for their order is not promised. */
function sorted(patterns: readonly Pattern[]) {
  return patterns.map(({ rows, ...pattern }) => ({
    ...pattern,
    rows: [...rows]
      .sort((one, other) => (one.subject < other.subject ? -1 : 1))
      .map(({ subject, trials, count, standing, expectedCount, adjustedChance }) => ({
        ...{ subject, trials, count, standing },
        expected: expectedCount.toFixed(9),
        chance: adjustedChance?.toFixed(12),
      })),
  }));
}
