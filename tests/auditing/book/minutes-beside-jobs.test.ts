import { describe, expect, it } from 'vitest';
import { randomFor } from '../../../seed/big-company/random.ts';
import { type BookTask, minutesBesideJobs, type OwnJob } from '../../../src/auditing/index.ts';

const contactor: BookTask = { name: 'Replace the contactor', minutes: 75, accessMinutes: 15 };
const book = (changes: Partial<BookTask> = {}) =>
  new Map([['replace_contactor', { ...contactor, ...changes }]]);

/** Jobs that were nothing but the contactor, by their minutes on site. */
const jobs = (...onSiteMinutes: number[]): OwnJob[] =>
  onSiteMinutes.map((minutes) => ({
    taskCode: 'replace_contactor',
    onSiteMinutes: minutes,
    causeSearchMinutes: 15,
  }));

const ten = [46, 48, 50, 52, 54, 56, 58, 60, 62, 64];

describe('the minutes of the price book beside the company’s own jobs', () => {
  it('flags a book that is beyond all of ten jobs, and says by how much', () => {
    const [task] = minutesBesideJobs(jobs(...ten), book());
    // Less 15 of looking for the cause: 31 to 49, in the middle (39 + 41) / 2.
    expect(task).toMatchObject({
      ...{ taskCode: 'replace_contactor', jobs: 10, bookMinutes: 90, medianMinutes: 40 },
      standing: 'above_jobs',
      sentence:
        'Replace the contactor: the book has 90 minutes with the way in. Half of 10 jobs that were nothing else took 40 minutes or less. Please look at whether the book is right.',
    });
    // All ten below, were each as likely above: 1 in 1,024.
    expect(task?.chance).toBeCloseTo(1 / 1_024, 15);
  });

  // How often all but so few lie to one side of a fair coin: 11 of 1,024 and 56 of 1,024 ways.
  it.each([
    { above: 0, ways: 1, standing: 'above_jobs' },
    { above: 1, ways: 11, standing: 'above_jobs' },
    { above: 2, ways: 56, standing: 'like_jobs' },
  ])('with $above of ten jobs above the book the chance is $ways in 1,024', (row) => {
    const some = [...ten.slice(row.above), ...Array<number>(row.above).fill(150)];
    const [task] = minutesBesideJobs(jobs(...some), book());
    expect(task?.chance).toBeCloseTo(row.ways / 1_024, 15);
    expect(task?.standing).toBe(row.standing);
  });

  it('nine jobs are not enough to say anything', () => {
    const [task] = minutesBesideJobs(jobs(...ten.slice(1)), book());
    expect(task).toMatchObject({
      ...{ jobs: 9, chance: null, adjustedChance: null, interval: null },
      standing: 'not_enough_data',
      sentence:
        'Replace the contactor: the book has 90 minutes with the way in. 9 jobs that were nothing else are too few to say anything.',
    });
  });

  it('tells whole minutes, however finely a clock counts', () => {
    const [task] = minutesBesideJobs(jobs(...ten.map((minutes) => minutes + 0.25)), book());
    expect(task?.medianMinutes).toBe(40.25);
    expect(task?.sentence).toContain('took 41 minutes or less');
  });

  it('a task that was never sold alone has no middle', () => {
    const [task] = minutesBesideJobs([], book());
    expect(task).toMatchObject({ jobs: 0, medianMinutes: null, standing: 'not_enough_data' });
  });

  it('up to a fifth more than the jobs take is let pass: 48 of 40 minutes, but not 49', () => {
    const same = Array<number>(30).fill(55);
    const at = (minutes: number) =>
      minutesBesideJobs(jobs(...same), book({ minutes, accessMinutes: 0 }))[0]?.standing;
    expect([at(48), at(49)]).toEqual(['like_jobs', 'above_jobs']);
  });

  it('a book below the jobs is not flagged', () => {
    const [task] = minutesBesideJobs(jobs(...ten), book({ minutes: 20, accessMinutes: 0 }));
    expect(task?.standing).toBe('like_jobs');
    expect(task?.chance).toBe(1);
  });

  it('who left before the search for the cause was over took no minutes, never fewer than none', () => {
    const [task] = minutesBesideJobs(jobs(...Array<number>(10).fill(5)), book());
    expect(task?.medianMinutes).toBe(0);
  });

  // From which to which job the middle lies in 95 of 100 cases: W. J. Conover, "Practical
  // Nonparametric Statistics", by the binomial table; from memory. Of 10 the 2nd to the 9th, of 20
  // the 6th to the 15th, of 30 the 10th to the 21st.
  it.each([
    { count: 10, low: 2, high: 9 },
    { count: 20, low: 6, high: 15 },
    { count: 30, low: 10, high: 21 },
  ])('of $count jobs the middle lies from number $low to number $high', ({ count, low, high }) => {
    const some = Array.from({ length: count }, (_, at) => 15 + at + 1).reverse();
    const [task] = minutesBesideJobs(jobs(...some), book());
    expect(task?.interval).toEqual({ low, high });
  });

  it('every task is adjusted for all of them being looked at', () => {
    const two = new Map([...book(), ['replace_filter', { ...contactor, name: 'Filter' }]]);
    const both = [...jobs(...ten), ...jobs(...ten).map(() => filter(100))];
    const [one] = minutesBesideJobs(both, two);
    expect(one?.adjustedChance).toBeCloseTo(2 / 1_024, 15);
  });

  it('a task of another book is left out', () => {
    expect(minutesBesideJobs([filter(30)], book())).toHaveLength(1);
  });

  it('of a thousand fair books fewer than one in twenty has a task that is flagged by chance', () => {
    const random = randomFor(90_210, 'fair books', 0);
    let flagged = 0;
    for (let company = 0; company < 1_000; company += 1) {
      const some = Array.from({ length: 25 }, () => 55 + random.int(-25, 25));
      // The book is a fifth above the middle of 40, which is as much as is let pass.
      const fair = book({ minutes: 48, accessMinutes: 0 });
      if (minutesBesideJobs(jobs(...some), fair)[0]?.standing === 'above_jobs') flagged += 1;
    }
    expect(flagged / 1_000).toBeLessThan(0.05 + 3 * Math.sqrt((0.05 * 0.95) / 1_000));
  });

  it('and a book padded by half is found from forty jobs, nearly always', () => {
    const random = randomFor(90_211, 'padded books', 0);
    let flagged = 0;
    for (let company = 0; company < 200; company += 1) {
      const some = Array.from({ length: 40 }, () => 55 + random.int(-15, 15));
      const padded = book({ minutes: 60, accessMinutes: 0 });
      if (minutesBesideJobs(jobs(...some), padded)[0]?.standing === 'above_jobs') flagged += 1;
    }
    expect(flagged).toBeGreaterThan(190);
  });
});

function filter(onSiteMinutes: number): OwnJob {
  return { taskCode: 'replace_filter', onSiteMinutes, causeSearchMinutes: 0 };
}
