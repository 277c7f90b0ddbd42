import { describe, expect, it } from 'vitest';
import { type Pattern, patternsOf, tallyJobs } from '../../../src/auditing/index.ts';
import { type RandomCompany, randomJobs } from './random-jobs.ts';

const REPEATS = 100;
const bad = new Set(['technician 0', 'technician 1']);

/** Ten technicians, 300 jobs each in a year. */
const company: RandomCompany = {
  technicians: 10,
  jobsEach: 300,
  often: { technicians: 2, times: 3 },
  bent: ['reset_billed', 'unproven', 'above_book'],
};

/** Everything that stands out on the page of one invented company: who, and by which measure. */
function standingOut(
  wished: RandomCompany,
  repeat: number,
): { subject: string; measure: string }[] {
  const page: Pattern[] = patternsOf([tallyJobs(randomJobs(wished, repeat), 'technician')]);
  return page.flatMap(({ measure, rows }) =>
    rows
      .filter(({ standing }) => standing === 'stands_out')
      .map(({ subject }) => ({ subject, measure })),
  );
}

describe('over a hundred invented companies of ten technicians', () => {
  const pages = Array.from({ length: REPEATS }, (_, repeat) => standingOut(company, repeat));
  const bent: readonly string[] = company.bent;
  const isTrue = ({ subject, measure }: { subject: string; measure: string }) =>
    bad.has(subject) && bent.includes(measure);

  it('the two who do it three times as often both stand out, in at least 95', () => {
    const both = pages.filter((page) =>
      [...bad].every((subject) => page.some((flag) => flag.subject === subject && isTrue(flag))),
    );
    // Ninety-nine with these seeds.
    expect(both.length).toBeGreaterThanOrEqual(95);
  });

  it('of what stands out the share that is chance is at most the one in twenty that is promised', () => {
    const shares = pages.map((page) =>
      page.length === 0 ? 0 : page.filter((flag) => !isTrue(flag)).length / page.length,
    );
    const mean = shares.reduce((sum, each) => sum + each, 0) / REPEATS;
    const spread = Math.sqrt(
      shares.reduce((sum, each) => sum + (each - mean) ** 2, 0) / (REPEATS - 1),
    );
    // Three deviations of a mean of a hundred.
    expect(mean).toBeLessThan(0.05 + (3 * spread) / Math.sqrt(REPEATS));
  });

  it('the eight who do not are left alone: none of them stands out in more than six of a hundred', () => {
    const innocent = pages.flatMap((page) => page.filter(({ subject }) => !bad.has(subject)));
    for (let at = 2; at < 10; at += 1) {
      const own = innocent.filter(({ subject }) => subject === `technician ${at}`);
      expect(own.length).toBeLessThanOrEqual(6);
    }
  });

  it('nobody is blamed for being sent to old systems, where all do alike', () => {
    const alike = { ...company, often: { technicians: 0, times: 1 } };
    const flagged = Array.from({ length: REPEATS }, (_, repeat) =>
      standingOut(alike, 1_000 + repeat),
    );
    const some = flagged.filter((page) => page.length > 0).length;
    // Where nothing is true, a page with a flag is a false one: one in twenty, and three deviations.
    expect(some / REPEATS).toBeLessThan(0.05 + 3 * Math.sqrt((0.05 * 0.95) / REPEATS));
  });
});
