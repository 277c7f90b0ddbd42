import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  addPrice,
  endsOfStep,
  type PricedJob,
  startSpread,
} from '../../src/audit-reports/price-spread.ts';
import { cents } from '../../src/pricing/index.ts';

interface Less {
  atMost?: number;
  computed?: number;
  wasPutRight?: boolean;
  isJudged?: boolean;
}

function job(charged: number, less: Less = {}): PricedJob {
  const atMost = less.atMost ?? charged;
  return {
    ...{ ticketId: `of ${charged}`, ticketNumber: 1, technicianId: null, taskCode: 'x' },
    ...{ chargedCents: cents(charged), atMostCents: cents(atMost) },
    computedCents: cents(less.computed ?? atMost),
    ...{ wasPutRight: less.wasPutRight ?? false, isJudged: less.isJudged ?? true },
  };
}

function spreadOf(jobs: readonly PricedJob[], tolerance = 0.1) {
  const spread = startSpread(tolerance);
  for (const each of jobs) addPrice(spread, each);
  return spread.works.get('x');
}

describe('the prices of many jobs', () => {
  it('reach from the lowest that a job comes to, to the highest with the tolerance', () => {
    // 200.00 and a tenth of it are 220.00; the job above its price says nothing of what is fair.
    const work = spreadOf([job(15_000), job(20_000), job(90_000, { atMost: 30_000 })]);
    expect(work).toMatchObject({ jobs: 3, lowCents: 15_000, highCents: 22_000 });
    expect(work?.above).toHaveLength(1);
  });

  it('leave what was added by hand out of what a job comes to', () => {
    const work = spreadOf([job(10_500, { computed: 10_000 })]);
    expect(work).toMatchObject({ lowCents: 10_000, highCents: 11_000, above: [] });
  });

  it('hold no job at a fair price that nobody could judge, be it the dearest of all', () => {
    const work = spreadOf([job(20_000), job(400_000, { isJudged: false })]);
    expect(work).toMatchObject({ jobs: 2, notJudged: 1, highCents: 22_000, above: [] });
    expect([...(work?.fair.values() ?? [])]).toEqual([1]);
  });

  it('hold no job at a fair price of which something had to be given back', () => {
    const work = spreadOf([job(20_000), job(14_025, { wasPutRight: true })]);
    expect(work).toMatchObject({ jobs: 2, putRight: 1, lowCents: 20_000, above: [] });
    expect([...(work?.fair.values() ?? [])]).toEqual([1]);
  });

  it('know that a job is above its price even where another rule could not judge it', () => {
    const work = spreadOf([job(90_000, { atMost: 30_000, isJudged: false, wasPutRight: true })]);
    expect(work).toMatchObject({ jobs: 1, notJudged: 0, putRight: 0 });
    expect(work?.above).toHaveLength(1);
  });

  it('say nothing of a job without a charge', () => {
    expect(spreadOf([job(0)])).toBeUndefined();
  });

  it('count every job with a charge once: on the step where its price lies, or above', () => {
    const amount = fc.integer({ min: 1, max: 5_000_000 });
    const jobs = fc.array(fc.record({ atMost: amount, over: fc.oneof(fc.constant(0), amount) }), {
      minLength: 1,
      maxLength: 60,
    });
    fc.assert(
      fc.property(jobs, (all) => {
        const work = spreadOf(all.map(({ atMost, over }) => job(atMost + over, { atMost })));
        const fair = all.filter(({ over }) => over === 0).map(({ atMost }) => atMost);
        expect(work?.above).toHaveLength(all.length - fair.length);
        const counted = [...(work?.fair ?? [])];
        for (const [step, count] of counted) {
          const { fromCents, toCents } = endsOfStep(step);
          const own = fair.filter((each) => each >= fromCents && each < toCents);
          expect(own).toHaveLength(count);
        }
        expect(counted.reduce((sum, [, count]) => sum + count, 0)).toBe(fair.length);
      }),
    );
  });
});
