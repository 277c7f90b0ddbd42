import { describe, expect, it } from 'vitest';
import { type AskedBack, answersFor, lessDismissed } from '../../src/auditing/answers-for.ts';
import type { Correction } from '../../src/auditing/index.ts';
import { cents } from '../../src/pricing/index.ts';

/*
 * What the owner dismissed answers for what is left of the same charge for the same reason, and for no
 * more of it: `src/auditing/README.md`.
 */

const fee: Correction = {
  ...{ invoiceId: 'invoice-1', position: 1, key: 'visit_fee' },
  ...{ toCents: cents(0), because: ['ticket 900'] },
};
const asked = (corrections: Correction[], changes: Partial<AskedBack> = {}): AskedBack => ({
  ...{ ruleCode: 'recall_charged', overCents: 8_900, corrections },
  ...changes,
});
const dismissed = asked([fee]);

describe('a flag that was dismissed answers', () => {
  it.each<[string, AskedBack, boolean]>([
    ['for itself', dismissed, true],
    ['for what is left of it', asked([fee], { overCents: 8_899 }), true],
    ['for no cent more', asked([fee], { overCents: 8_901 }), false],
    ['for no other rule', asked([fee], { ruleCode: 'tax_wrong' }), false],
    ['for nothing that gives nothing back', asked([], { overCents: 0 }), false],
    ['not for another charge', asked([{ ...fee, key: 'labor' }]), false],
    ['not for one more charge', asked([fee, { ...fee, key: 'labor' }]), false],
    ['not for another document', asked([{ ...fee, position: 2 }]), false],
    ['not for another invoice', asked([{ ...fee, invoiceId: 'invoice-2' }]), false],
    ['not where less is to be left', asked([{ ...fee, toCents: cents(1) }]), false],
    ['not where it was not owed at all', asked([{ ...fee, notOwed: true }]), false],
    ['not for another reason', asked([{ ...fee, because: ['ticket 901'] }]), false],
    ['not for one more reason', asked([{ ...fee, because: ['ticket 900', 'ticket 901'] }]), false],
    ['not where the reason is gone', asked([{ ...fee, because: [] }]), false],
  ])('%s', (_, found, expected) => {
    expect(answersFor(dismissed, found)).toBe(expected);
  });

  it('with its reasons in another order', () => {
    const reasons = ['ticket 900', 'ticket 901'];
    const found = asked([{ ...fee, because: reasons }]);
    expect(answersFor(asked([{ ...fee, because: reasons.toReversed() }]), found)).toBe(true);
  });

  it('not where one of two reasons is another', () => {
    const two = asked([{ ...fee, because: ['ticket 900', 'ticket 901'] }]);
    const found = asked([{ ...fee, because: ['ticket 900', 'ticket 902'] }]);
    expect(answersFor(two, found)).toBe(false);
  });

  it('for any reason where none was kept with it', () => {
    const { because: _, ...unkept } = fee;
    expect(answersFor(asked([unkept]), dismissed)).toBe(true);
    expect(answersFor(dismissed, asked([unkept]))).toBe(false);
  });

  it.each<[string, Partial<Correction>]>([
    ['the tax', { key: 'tax' }],
    ['what a yes credits of the fee', { asFeeCredit: true }],
  ])('for %s whatever it comes to now', (_, changes) => {
    const found = { ...fee, ...changes };
    expect(answersFor(asked([found]), asked([{ ...found, toCents: cents(77) }]))).toBe(true);
  });
});

describe('of what is put right already', () => {
  const labor: Correction = { ...fee, key: 'labor', because: ['finding finding-1'] };

  it('counts what was not dismissed', () => {
    const answer = { outcome: 'clear', settled: [fee, labor] } as const;
    const settled = (of: AskedBack[]) => lessDismissed('recall_charged', answer, of);
    expect(settled([])).toEqual(answer);
    expect(settled([dismissed])).toEqual({ outcome: 'clear', settled: [labor] });
    expect(settled([dismissed, asked([labor])])).toEqual({ outcome: 'clear', settled: [] });
    expect(settled([asked([fee], { ruleCode: 'tax_wrong' })])).toEqual(answer);
  });

  it('nothing is said where a rule cannot tell', () => {
    const answer = { outcome: 'cannot_judge', missing: ['findings'] } as const;
    expect(lessDismissed('recall_charged', answer, [dismissed])).toBe(answer);
  });
});
