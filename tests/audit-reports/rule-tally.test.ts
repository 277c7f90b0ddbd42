import { describe, expect, it } from 'vitest';
import type { SeenFlag } from '../../src/audit-reports/count-jobs.ts';
import { addToRules, reportedRules, startRules } from '../../src/audit-reports/rule-tally.ts';
import { seenJob } from './seen-job.ts';

function ruleOf(code: string, ...jobs: ReturnType<typeof seenJob>[]) {
  const tally = startRules();
  for (const job of jobs) addToRules(tally, job);
  return reportedRules(tally).find((rule) => rule.code === code);
}

const flag = (state: SeenFlag['state'], overCents: number): SeenFlag => ({
  ...{ code: 'above_ceiling', state, overCents, sentence: 'Said.' },
});

describe('what rules said of many jobs', () => {
  it('is counted by how each flag was answered, with what is open and what went back', () => {
    const flags = [
      flag('open', 700),
      flag('open', 50),
      flag('accepted', 300),
      flag('dismissed', 9),
    ];
    expect(
      ruleOf('above_ceiling', ...flags.map((each) => seenJob({ flags: [each] }))),
    ).toMatchObject({ open: 2, openCents: 750, accepted: 1, givenBackCents: 300, dismissed: 1 });
  });

  it('tells a rule that held from one that nothing was there for, and from one that cannot tell', () => {
    const cannotJudge = [{ ruleCode: 'above_ceiling', missing: ['price_inputs', 'book_in_force'] }];
    const jobs = [seenJob({ bill: true }), seenJob({}), seenJob({ bill: true, cannotJudge })];
    expect(ruleOf('above_ceiling', ...jobs)).toMatchObject({
      ...{ judged: 1, notJudged: 1, missing: ['book_in_force', 'price_inputs'] },
    });
    expect(ruleOf('reset_without_cause', ...jobs)).toMatchObject({ judged: 0, notJudged: 0 });
    expect(ruleOf('hours_beyond_clock', ...jobs)).toMatchObject({ judged: 0, notJudged: 0 });
  });

  it('counts a job that a rule flags as judged, whatever else is known of it', () => {
    expect(ruleOf('above_ceiling', seenJob({ flags: [flag('open', 1)] }))).toMatchObject({
      judged: 1,
    });
  });
});
