import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { auditRulesets, auditRulesetVersions, judgeJob } from '../../src/auditing/index.ts';
import { letterReason, letterReasons } from '../../src/audits/letter-reasons.ts';
import { jobFromJson } from '../auditing/job-as-json.ts';

// A letter says why something is given back. PRODUCT.md, "Audit": a correction is one step, and
// nothing in it is an accusation.

const rules = auditRulesetVersions.flatMap((version) => auditRulesets[version].rules);
const owing = rules.filter(({ severity }) => severity === 'owed').map(({ code }) => code);

describe('every rule by which money can be owed', () => {
  it.each(owing)('%s has a reason of its own in both languages', (code) => {
    const reason = letterReasons[code];
    expect(reason, 'a letter would say only that the bill was too high').toBeDefined();
    expect(reason?.en).toMatch(/^[A-Z].*\.$/);
    expect(reason?.es).toMatch(/^\p{Lu}.*\.$/u);
    expect(reason?.es).not.toMatch(/\b(the|was|bill|charge|part|work|than)\b/i);
  });

  it('is known by what the corpus of judged jobs gives back, whatever a rule says of itself', () => {
    const folder = fileURLToPath(new URL('../auditing/golden/auditing-1', import.meta.url));
    const givenBack = readdirSync(folder).flatMap((name) => {
      const { job } = jobFromJson(readFileSync(`${folder}/${name}`, 'utf8'));
      return judgeJob(job, auditRulesets['auditing-1'])
        .flags.filter(({ overCents }) => overCents > 0)
        .map(({ ruleCode }) => ruleCode);
    });
    expect(givenBack.length).toBeGreaterThan(10);
    for (const code of new Set(givenBack)) expect(Object.keys(letterReasons)).toContain(code);
  });
});

describe('the reasons in letters', () => {
  it('are of rules that there are', () => {
    const known = rules.map(({ code }) => code);
    for (const code of Object.keys(letterReasons)) expect(known).toContain(code);
  });

  it('are told apart, and none of them accuses anybody', () => {
    const all = Object.values(letterReasons).flatMap(({ en, es }) => [en, es]);
    expect(new Set(all).size).toBe(all.length);
    for (const sentence of all) {
      expect(sentence).not.toMatch(/fraud|cheat|steal|stole|lied|lying|dishonest|on purpose/i);
      expect(sentence).not.toMatch(/fraude|trampa|rob[oó]|minti|engañ|estaf|a propósito/i);
    }
  });

  it('are in general terms where a rule has none of its own', () => {
    const { en, es } = letterReason('a_rule_of_another_year');
    expect(en).toBe('Our bill came to more than it should have.');
    expect(es).toBe('Nuestra factura fue más alta de lo que debía ser.');
  });
});
