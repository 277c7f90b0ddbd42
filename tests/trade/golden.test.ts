import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { z } from 'zod';
import {
  type EvidenceRulesetVersion,
  evidenceRulesets,
  evidenceRulesetVersionSchema,
  evidenceSchema,
  faultCodeSchema,
  type Verdict,
} from '../../src/trade/index.ts';

// The numbers in these files were computed outside this program, from the formulas in words, and
// the standings written by hand. A released version's folder only grows: what was once decided
// under a version must be decided the same for ever.
const goldenCaseSchema = z.strictObject({
  name: z.string(),
  faultCode: faultCodeSchema,
  evidence: evidenceSchema,
  expected: z.strictObject({
    standing: z.string(),
    reason: z.string(),
    outcomes: z.record(z.string(), z.string()),
    measurements: z.record(z.string(), z.record(z.string(), z.number())),
  }),
});
type GoldenCase = z.infer<typeof goldenCaseSchema>;

describe.each(evidenceRulesetVersionSchema.options)('ruleset %s', (version) => {
  const cases = readCases(version);

  test('has at least one golden case for every fault', () => {
    const covered = new Set(cases.map((each) => each.faultCode));
    expect(faultCodeSchema.options.filter((code) => !covered.has(code))).toEqual([]);
  });

  test.each(cases)('$name', ({ faultCode, evidence, expected }) => {
    const verdict = evidenceRulesets[version].weigh(faultCode, evidence);
    expect([verdict.standing, verdict.reason]).toEqual([expected.standing, expected.reason]);
    expect(outcomesOf(verdict)).toEqual(expected.outcomes);
    for (const [id, numbers] of Object.entries(expected.measurements)) {
      const measurement = verdict.criteria.find((each) => each.id === id)?.measurement;
      for (const [name, value] of Object.entries(numbers)) {
        expect(new Map(Object.entries(measurement ?? {})).get(name), `${id}.${name}`).toBeCloseTo(
          value,
          9,
        );
      }
    }
  });
});

function outcomesOf(verdict: Verdict): Record<string, string> {
  return Object.fromEntries(verdict.criteria.map((each) => [each.id, each.outcome]));
}

/** Throws when a released version has no folder: then nothing guards its old verdicts. */
function readCases(version: EvidenceRulesetVersion): GoldenCase[] {
  const folder = new URL(`./golden/${version}/`, import.meta.url);
  return readdirSync(folder).map((file) =>
    goldenCaseSchema.parse(JSON.parse(readFileSync(new URL(file, folder), 'utf8'))),
  );
}
