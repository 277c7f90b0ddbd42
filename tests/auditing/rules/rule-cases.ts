import { expect, it } from 'vitest';
import {
  currentAuditRuleset,
  type FactGroup,
  type JobFacts,
  type JobJudgement,
  judgeJob,
} from '../../../src/auditing/index.ts';

/** One job and what one rule has to say of it, worked out by hand. */
export interface RuleCase {
  readonly name: string;
  readonly job: () => JobFacts;
  readonly expected:
    | 'clear'
    /** Flagged, with nothing to give back. */
    | 'look'
    | { readonly missing: readonly FactGroup[] }
    | GivenBack;
}

interface GivenBack {
  /** By the key of the charge, before tax; of several documents `position/key`. */
  readonly back: Readonly<Record<string, number>>;
  readonly taxCents?: number;
  /** All of it, as the owner sees it. */
  readonly overCents: number;
}

/** One guarantee for each case: what one rule alone says of its job. */
export function holdsCases(code: string, cases: readonly RuleCase[]): void {
  // Whole names, which deliberate mistakes look for; a field's value would be cut short.
  it.each(cases.map((each) => [each.name, each] as const))('%s', (_, { job, expected }) => {
    const { flags, cannotJudge, corrected, overCents } = judgedBy(code, job());
    const missing = cannotJudge.map((each) => each.missing);
    if (expected === 'clear') {
      expect({ flags, missing }).toEqual({ flags: [], missing: [] });
    } else if (expected === 'look') {
      expect({ overCents, missing }).toEqual({ overCents: 0, missing: [] });
      expect(flags.map(({ ruleCode, severity }) => [ruleCode, severity])).toEqual([[code, 'look']]);
      expect(flags.flatMap(({ sentences }) => sentences)).not.toEqual([]);
    } else if ('missing' in expected) {
      expect({ flags, missing }).toEqual({ flags: [], missing: [expected.missing] });
    } else {
      expect({ missing, flagged: flags.map(({ ruleCode }) => ruleCode) }).toEqual({
        missing: [],
        flagged: [code],
      });
      expect({
        back: backByKey(corrected),
        taxCents: corrected.reduce((sum, document) => sum + document.taxCents, 0),
        overCents,
      }).toEqual({ taxCents: 0, ...expected });
      expect(flags.map((flag) => flag.overCents)).toEqual([overCents]);
      expect(flags.flatMap(({ sentences }) => sentences)).not.toEqual([]);
    }
  });
}

/** What one rule alone says. */
export function judgedBy(code: string, job: JobFacts): JobJudgement {
  const rules = currentAuditRuleset.rules.filter((rule) => rule.code === code);
  if (rules.length !== 1) throw new Error(`no rule ${code}`);
  return judgeJob(job, { version: currentAuditRuleset.version, rules });
}

function backByKey(corrected: JobJudgement['corrected']): Record<string, number> {
  const positions = new Set(corrected.map(({ position }) => position));
  return Object.fromEntries(
    corrected.flatMap(({ position, credits }) =>
      credits.map(({ key, amountCents }) => [
        positions.size > 1 ? `${position}/${key}` : key,
        amountCents,
      ]),
    ),
  );
}
