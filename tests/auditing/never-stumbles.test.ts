import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { currentAuditRuleset, judgeJob } from '../../src/auditing/index.ts';
import { arbitraryBrokenJob } from './broken-records.ts';

/*
 * A ticket on which a rule stumbles has no judgement at all, and nobody is told. So whatever is on
 * record, every rule answers.
 */
describe('whatever a record holds', () => {
  it('every job has its judgement, and every rule answers', () => {
    fc.assert(
      fc.property(arbitraryBrokenJob, (job) => {
        const { flags, cannotJudge, overCents } = judgeJob(job);
        expect(flags.length + cannotJudge.length).toBeLessThanOrEqual(
          currentAuditRuleset.rules.length,
        );
        expect(overCents).toBeGreaterThanOrEqual(0);
      }),
      { numRuns: 400 },
    );
  });
});
