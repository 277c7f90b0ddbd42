import { describe, expect, it } from 'vitest';
import { acceptedDocument, type BilledLine, undoneDocument } from '../../src/billing/index.ts';
import { currentPricingRuleset } from '../../src/pricing/index.ts';
import type { HandInputs, HandWork } from '../pricing/oracle/hand-inputs.ts';
import { capacitorWork, contactorWork } from '../pricing/oracle/hand-worked.ts';
import { at, line, parsed, partsTaxed, partsTaxedByLine, workedLines } from './worked-bill.ts';

const CAPACITOR = 'finding-capacitor';
const CONTACTOR = 'finding-contactor';

function takenOff(
  tax: Partial<HandInputs['tax']>,
  lines: readonly BilledLine[],
  undone: readonly string[],
  work?: HandWork[],
) {
  const rulesetVersion = currentPricingRuleset.version;
  const inputs = parsed(tax, work);
  return undoneDocument({ inputs, rulesetVersion, optionAt: 0, lines }, undone);
}

function amountsOf(answer: ReturnType<typeof undoneDocument>): Record<string, number> {
  if (answer.outcome !== 'some') throw new Error(`taken off: ${answer.outcome}`);
  return Object.fromEntries(
    answer.document.lines.map(({ key, amountCents }) => [key, amountCents]),
  );
}

describe('work of the published invoice that was not done comes off the bill', () => {
  it.each([
    {
      name: 'the contactor, tax once for the invoice',
      tax: partsTaxed,
      billedTax: 994,
      undone: CONTACTOR,
      // Labor goes at the discounted price. 9.94 less 8.25 % of 55.20 = 4.554.
      off: { contactor: -6_525, contactorLabor: -6_040, tax: -539 },
      left: 8_900 + 5_520 + 11_325 + 455,
    },
    {
      name: 'the contactor, tax line by line',
      tax: partsTaxedByLine,
      billedTax: 993,
      undone: CONTACTOR,
      off: { contactor: -6_525, contactorLabor: -6_040, tax: -538 },
      left: 8_900 + 5_520 + 11_325 + 455,
    },
    {
      name: 'the capacitor, the dearest task: the second one keeps what was taken off it',
      tax: partsTaxed,
      billedTax: 994,
      undone: CAPACITOR,
      // 9.94 less 8.25 % of 65.25 = 5.383.
      off: { capacitor: -5_520, capacitorLabor: -11_325, tax: -456 },
      left: 8_900 + 6_525 + 6_040 + 538,
    },
  ] as const)('$name', ({ tax, billedTax, undone, off, left }) => {
    const lines = workedLines(billedTax);
    const answer = takenOff(tax, lines, [undone]);
    const named = Object.entries(off).map(([name, amountCents]) => [
      `undone:${at[name as keyof typeof off]}`,
      amountCents,
    ]);
    expect(amountsOf(answer)).toEqual(Object.fromEntries(named));
    if (answer.outcome !== 'some') throw new Error('nothing was taken off');
    expect(answer.document.kind).toBe('work_not_done');
    expect(acceptedDocument(lines).totalCents + answer.document.totalCents).toBe(left);
  });

  it('a lump sum has no tax to take off', () => {
    const lumpSum = { ...partsTaxed, mode: 'lump_sum' } as const;
    expect(amountsOf(takenOff(lumpSum, workedLines(0), [CONTACTOR]))).toEqual({
      [`undone:${at.contactor}`]: -6_525,
      [`undone:${at.contactorLabor}`]: -6_040,
    });
  });

  it('a part that was free takes nothing off', () => {
    const lines = workedLines(538).map((each) =>
      each.key === at.capacitor ? line(each.key, 0, { findingIds: [CAPACITOR] }) : each,
    );
    expect(amountsOf(takenOff(partsTaxed, lines, [CAPACITOR]))).toEqual({
      [`undone:${at.capacitorLabor}`]: -11_325,
    });
  });
});

describe('what serves several findings is billed while one of them was mended', () => {
  const access = line('access:system-1:condenser_electrical', 2_516, {
    findingIds: [CAPACITOR, CONTACTOR],
  });
  const ownAccess = { ...access, findingIds: [CONTACTOR] };

  it('the way in to both', () => {
    const off = amountsOf(takenOff(partsTaxed, workedLines(994, [access]), [CONTACTOR]));
    expect(off).not.toHaveProperty([`undone:${access.key}`]);
  });

  it('but not the way in to the undone one alone', () => {
    const off = amountsOf(takenOff(partsTaxed, workedLines(994, [ownAccess]), [CONTACTOR]));
    expect(off[`undone:${access.key}`]).toBe(-2_516);
  });

  it('one can for two sections', () => {
    const both = [CAPACITOR, 'finding-other-section'];
    const lines = workedLines(994).map((each) =>
      each.findingIds.includes(CAPACITOR) ? { ...each, findingIds: both } : each,
    );
    const work = [capacitorWork({ alsoFindingIds: ['finding-other-section'] }), contactorWork()];
    const half = takenOff(partsTaxed, lines, ['finding-other-section'], work);
    expect(half.outcome).toBe('nothing');
    expect(amountsOf(takenOff(partsTaxed, lines, both, work))).toEqual({
      [`undone:${at.capacitor}`]: -5_520,
      [`undone:${at.capacitorLabor}`]: -11_325,
      'undone:tax': -456,
    });
  });
});

describe('a job of which nothing was done', () => {
  it('is not billed as accepted at all, so that the trip is billed as after a no', () => {
    expect(takenOff(partsTaxed, workedLines(994), [CAPACITOR, CONTACTOR]).outcome).toBe(
      'everything',
    );
  });

  it('is billed whole when everything was done', () => {
    expect(takenOff(partsTaxed, workedLines(994), []).outcome).toBe('nothing');
    expect(takenOff(partsTaxed, workedLines(994), ['another-finding']).outcome).toBe('nothing');
  });
});
