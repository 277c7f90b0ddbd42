import { describe, expect, it } from 'vitest';
import { amountsOf, type JobCount, tallyJobs } from '../../../src/auditing/index.ts';
import { cents } from '../../../src/pricing/index.ts';

function billing(technicianId: string, dollars: number, count: number, age = 3): JobCount[] {
  return Array.from({ length: count }, () => ({
    technicianId,
    callTakerId: null,
    taskCodes: [],
    partCategories: [],
    month: '2026-07',
    work: 'no_cooling',
    systemAgeYears: age,
    answers: {},
    billedCents: cents(dollars * 100),
  }));
}

// Iglewicz and Hoaglin (1993), the rule of 3.5. The eight averages are an invented example.
const averages = [118, 125, 131, 122, 129, 127, 120, 198];
const eight = averages.flatMap((dollars, at) => billing(`technician ${at}`, dollars, 40));

describe('what jobs are billed', () => {
  it('the one of eight whose tickets come to $198 stands out alone', () => {
    const rows = amountsOf(tallyJobs(eight, 'technician'));
    expect(rows.filter(({ standing }) => standing === 'stands_out')).toHaveLength(1);
    // The others' mean is (1070 - 198) / 7 = 124.5714.
    expect(rows[7]).toMatchObject({
      ...{ subject: 'technician 7', jobs: 40, billedCents: 792_000, expectedCents: 498_286 },
      standing: 'stands_out',
    });
    expect(rows[7]?.times).toBeCloseTo(198 / (872 / 7), 12);
  });

  it('who is cheap does not stand out', () => {
    const cheap = [...eight.slice(0, 280), ...billing('technician 7', 40, 40)];
    const rows = amountsOf(tallyJobs(cheap, 'technician'));
    expect(rows[7]?.score).toBeLessThan(-3.5);
    expect(rows[7]?.standing).toBe('like_others');
  });

  it('dear machines are compared with dear machines', () => {
    const mixed = ['a', 'b', 'c', 'd', 'e'].flatMap((name) => [
      ...billing(name, 100, 30),
      ...billing(name, 900, 30, 14),
    ]);
    const oldOnly = billing('last', 900, 60, 14);
    const rows = amountsOf(tallyJobs([...mixed, ...oldOnly], 'technician'));
    expect(rows.at(-1)).toMatchObject({ times: 1, standing: 'like_others' });
  });

  it('fewer than thirty jobs, or fewer than five people, are not enough to say', () => {
    const few = amountsOf(tallyJobs([...eight, ...billing('new', 900, 29)], 'technician'));
    expect(few.at(-1)).toMatchObject({ score: null, times: null, standing: 'not_enough_data' });
    const four = amountsOf(tallyJobs(eight.slice(160), 'technician'));
    expect(four.every(({ standing }) => standing === 'not_enough_data')).toBe(true);
  });

  it('a job that was billed nothing is not counted', () => {
    const free = amountsOf(tallyJobs([...eight, ...billing('technician 0', 0, 50)], 'technician'));
    expect(free[0]?.jobs).toBe(40);
  });
});
