import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { auditRulesets, auditRulesetVersions, judgeJob } from '../../src/auditing/index.ts';
import { jobFromJson } from './job-as-json.ts';

const corpus = fileURLToPath(new URL('./golden', import.meta.url));

describe('a job that was judged once is judged the same again, under every later release', () => {
  it('every ruleset version has a corpus, and every corpus a version', () => {
    expect(readdirSync(corpus).sort()).toEqual([...auditRulesetVersions].sort());
    expect(Object.keys(auditRulesets).sort()).toEqual([...auditRulesetVersions].sort());
  });

  describe.each(auditRulesetVersions)('%s', (version) => {
    const names = readdirSync(`${corpus}/${version}`).sort();
    const recorded = names.map((name) => {
      const { job, judgement } = jobFromJson(readFileSync(`${corpus}/${version}/${name}`, 'utf8'));
      return { name, job, judgement };
    });

    it.each(recorded.map((each) => [each.name, each] as const))(
      '%s: every flag, sentence and cent',
      (_, { job, judgement }) => {
        const { openCents, ...again } = judgeJob(job, auditRulesets[version]);
        expect(JSON.parse(JSON.stringify(again))).toEqual(judgement);
        // Nothing of it was dismissed.
        expect(openCents).toBe(again.overCents);
      },
    );

    it('has a flag of every rule that gives money back, and healthy jobs too', () => {
      const judged = recorded.map(({ job }) => judgeJob(job, auditRulesets[version]));
      const flagged = new Set(judged.flatMap(({ flags }) => flags.map(({ ruleCode }) => ruleCode)));
      const owed = auditRulesets[version].rules.filter(({ severity }) => severity === 'owed');
      expect(owed.map(({ code }) => code).filter((code) => !flagged.has(code))).toEqual([]);
      expect(judged.filter(({ flags }) => flags.length === 0).length).toBeGreaterThan(3);
    });
  });
});
