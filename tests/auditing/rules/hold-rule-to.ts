import { describe, expect, it } from 'vitest';
import { currentAuditRuleset, type FactGroup, type JobFacts } from '../../../src/auditing/index.ts';
import { pricesOf } from '../../../src/auditing/jobs/prices-of.ts';

/** A job and what a rule has to say of it. */
export interface RuleCase {
  readonly name: string;
  readonly job: JobFacts;
  readonly is: 'clear' | { readonly missing: readonly FactGroup[] } | FlaggedAs;
}

interface FlaggedAs {
  readonly says: readonly string[];
  /** What should be left of which charge, in cents; none where only a look is asked for. */
  readonly to?: Readonly<Record<string, number>>;
}

/** One test for each case of one rule of the ruleset in force. */
export function holdRuleTo(code: string, cases: readonly RuleCase[]): void {
  describe(code, () => {
    it.each(cases.map((each) => [each.name, each] as const))('%s', (_, { job, is }) => {
      const rule = currentAuditRuleset.rules.find((each) => each.code === code);
      expect(rule?.judge(job, pricesOf())).toEqual(answerOf(job, is));
    });

    it('asks for a look and accuses nobody', () => {
      const said = cases.flatMap(({ is }) =>
        typeof is === 'object' && 'says' in is ? is.says : [],
      );
      expect(said.length).toBeGreaterThan(0);
      expect(said.join(' ')).not.toMatch(/fraud|cheat|guilt|steal|dishonest|suspect|false|lied/i);
    });
  });
}

function answerOf({ documents }: JobFacts, is: RuleCase['is']) {
  if (is === 'clear') return { outcome: 'clear' };
  if ('missing' in is) return { outcome: 'cannot_judge', missing: is.missing };
  const corrections = Object.entries(is.to ?? {}).map(([key, toCents]) => {
    const document = documents.find(({ lines }) => lines.some((line) => line.key === key));
    if (document === undefined) throw new Error(`no document charges ${key}`);
    const { invoiceId, position } = document;
    return { invoiceId, position, key, toCents };
  });
  return { outcome: 'flagged', sentences: is.says, corrections };
}
