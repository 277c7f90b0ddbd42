import { describe, expect, it } from 'vitest';
import {
  type Dimension,
  type JobCount,
  patternsOf,
  tallyJobs,
} from '../../../src/auditing/index.ts';
import { cents } from '../../../src/pricing/index.ts';

/*
 * Like is compared with like: what was called for, the season, how old the system is. The bounds of
 * seasons and ages are common practice, no source.
 */

const plain: JobCount = {
  technicianId: 'A',
  callTakerId: null,
  taskCodes: ['replace_contactor'],
  partCategories: [],
  month: '2026-07',
  work: 'no_cooling',
  systemAgeYears: 3,
  answers: { came_back: false },
  billedCents: cents(20_000),
};

/** Whether a job of one is held against a job of the other. */
function areAlike(
  one: Partial<JobCount>,
  other: Partial<JobCount>,
  by: Dimension = 'technician',
): boolean {
  const all = [one, other].map((changes) => ({ ...plain, ...changes }));
  const [first] =
    patternsOf([tallyJobs(all, by)]).find(({ measure }) => measure === 'came_back')?.rows ?? [];
  return first?.trials === 1;
}

describe('a job is held against the jobs of others', () => {
  it.each([
    ['2026-05', '2026-09', true],
    ['2026-04', '2026-05', false],
    ['2026-09', '2026-10', false],
    ['2026-11', '2027-02', true],
    ['2026-12', '2027-01', true],
    ['2026-10', '2026-11', false],
    ['2027-02', '2027-03', false],
    ['2026-03', '2026-10', true],
    ['2026-07', '2027-01', false],
  ])('called in %s and in %s: %s', (month, other, expected) => {
    expect(areAlike({ month }, { month: other, technicianId: 'B' })).toBe(expected);
  });

  it.each([
    [0, 4, true],
    [4, 5, false],
    [5, 9, true],
    [9, 10, false],
    [10, 31, true],
    [null, null, true],
    [null, 0, false],
  ])('on a system of %s and of %s years: %s', (systemAgeYears, other, expected) => {
    const theirs = { systemAgeYears: other, technicianId: 'B' };
    expect(areAlike({ systemAgeYears }, theirs)).toBe(expected);
  });

  it('called for the same only', () => {
    expect(areAlike({}, { work: 'no_heat', technicianId: 'B' })).toBe(false);
  });

  it('of months whatever the season, and of tasks whatever was called for', () => {
    expect(areAlike({ month: '2026-07' }, { month: '2027-01' }, 'month')).toBe(true);
    expect(areAlike({}, { month: '2026-08', work: 'no_heat' }, 'month')).toBe(false);
    const other = { taskCodes: ['replace_filter'], work: 'no_heat' } as const;
    expect(areAlike({}, other, 'task')).toBe(true);
    expect(areAlike({}, { ...other, month: '2027-01' }, 'task')).toBe(false);
  });
});
