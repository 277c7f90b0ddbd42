import { describe, expect, it } from 'vitest';
import { addPrice, startSpread } from '../../src/audit-reports/price-spread.ts';
import { pricedJob } from '../../src/audit-reports/priced-job.ts';
import { seenJob } from './seen-job.ts';

/** The prices of some jobs at a tolerance of a tenth. */
function spreadOf(...jobs: Parameters<typeof seenJob>[0][]) {
  const spread = startSpread(0.1);
  for (const job of jobs) addPrice(spread, pricedJob(seenJob(job)));
  return spread.works.get('');
}

const flag = (state: 'open' | 'accepted' | 'dismissed', overCents: number) => ({
  ...{ code: 'warranted_part_charged', state, overCents, sentence: 'Said.' },
});

describe('the price of a job', () => {
  it('is not fair where no rule about prices could judge it', () => {
    for (const ruleCode of ['above_ceiling', 'differs_from_book']) {
      const cannotJudge = [{ ruleCode, missing: ['price_inputs'] }];
      const work = spreadOf({ chargedCents: 400_000, cannotJudge });
      expect(work).toMatchObject({ jobs: 1, notJudged: 1, lowCents: null });
    }
  });

  it('is known where only a rule about something else could not judge it', () => {
    const cannotJudge = [{ ruleCode: 'duplicate_part', missing: ['earlier_repairs'] }];
    expect(spreadOf({ chargedCents: 40_000, cannotJudge })).toMatchObject({ notJudged: 0 });
  });

  it('was not fair where money went back for a flag that the owner agreed to', () => {
    const job = { chargedCents: 40_000, leftCents: 34_025, flags: [flag('accepted', 5_975)] };
    expect(spreadOf(job)).toMatchObject({ jobs: 1, putRight: 1, lowCents: null, above: [] });
  });

  it('is fair where the owner set a flag aside, or agreed to one without money', () => {
    const jobs = [flag('dismissed', 5_975), flag('accepted', 0)].map((each) => ({
      ...{ chargedCents: 40_000, flags: [each] },
    }));
    expect(spreadOf(...jobs)).toMatchObject({ jobs: 2, putRight: 0, lowCents: 40_000 });
  });

  it('lies within the band of its own kind, once what was added by hand went back', () => {
    // 450.00, of which 50.00 were added and have gone back: 400.00 with a tenth are 440.00.
    const job = { chargedCents: 45_000, leftCents: 40_000, adjustedCents: 0 };
    expect(spreadOf(job)).toMatchObject({ lowCents: 40_000, highCents: 44_000 });
  });
});
