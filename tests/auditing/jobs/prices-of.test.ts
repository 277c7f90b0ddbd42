import { describe, expect, it } from 'vitest';
import { type JobFacts, judgeJob } from '../../../src/auditing/index.ts';
import { pricesOf } from '../../../src/auditing/jobs/prices-of.ts';
import type { BilledLine } from '../../../src/billing/index.ts';
import { cents } from '../../../src/pricing/index.ts';
import {
  capacitor,
  documentOf,
  inputsOf,
  jobOf,
  keysOf,
  withDocument,
  withoutOfDocument,
} from '../job-of.ts';

/*
 * What the engine refuses is one line beyond its band; all else that was adjusted has its price all
 * the same. PRODUCT.md, "Price": the owner may leave the band, and a yes credits the policy's share,
 * here half, of the fee that stands.
 */
const { labor, part } = keysOf(capacitor());

interface ByHand {
  readonly aimedAt: string;
  readonly amountCents: number;
  readonly byOwner: boolean;
}

/** Adjusted within the band first, and beyond it afterwards, as only a bent record can be. */
function adjusted(within: readonly ByHand[], beyond: readonly ByHand[]): JobFacts {
  const withReason = (each: ByHand) => ({ ...each, reason: 'Agreed on site' });
  const job = jobOf({ adjustments: within.map(withReason) });
  const { price, lines } = documentOf(job);
  if (price === undefined) throw new Error('the job has its price');
  const more = beyond.map((each) => ({
    ...withReason(each),
    amountCents: cents(each.amountCents),
  }));
  const options = price.inputs.options.map((option) => ({
    ...option,
    adjustments: [...option.adjustments, ...more],
  }));
  return withDocument(job, {
    lines: [...lines, ...more.map(lineOf)],
    price: { ...price, inputs: { ...price.inputs, options } },
  });
}

function lineOf({ aimedAt, amountCents }: ByHand): BilledLine {
  return {
    key: `adjustment:${aimedAt}:9`,
    kind: 'adjustment',
    priceClass: aimedAt === 'visit_fee' ? 'visit_fee' : aimedAt === part ? 'part' : 'labor',
    description: 'Adjustment',
    aimedAt,
    findingIds: [],
    amountCents: cents(amountCents),
  };
}

/** 89.00 less 40.00: of 49.00 a yes credits 24.50. */
const feeLowered: ByHand = { aimedAt: 'visit_fee', amountCents: -4_000, byOwner: true };

function feeCreditOf(job: JobFacts): number | undefined {
  return pricesOf().stored(documentOf(job))?.feeCreditCents;
}

function flagsOf(job: JobFacts) {
  return judgeJob(job).flags.map(({ ruleCode, overCents }) => [ruleCode, overCents]);
}

describe('a document priced again', () => {
  it('keeps what the owner lowered where somebody else raised another line beyond its band', () => {
    // Labor at 133.25 is at most 124.57 without the owner; the fee and its credit are right.
    const job = adjusted([feeLowered], [{ aimedAt: labor, amountCents: 2_000, byOwner: false }]);
    expect(feeCreditOf(job)).toBe(2_450);
    expect(flagsOf(job)).toEqual([['above_ceiling', 868]]);
  });

  it('keeps what was adjusted on other lines where the owner’s own is refused', () => {
    // Nobody adjusts a part below zero; the credit of the lowered fee is right all the same.
    const job = adjusted([feeLowered], [{ aimedAt: part, amountCents: -6_000, byOwner: true }]);
    expect(feeCreditOf(job)).toBe(2_450);
    // Its tax is on nothing, which is another matter.
    expect(flagsOf(job).map(([ruleCode]) => ruleCode)).toEqual(['tax_wrong']);
  });

  it('keeps it where an adjustment is aimed at a charge that is not there', () => {
    const job = adjusted([feeLowered], [{ aimedAt: 'labor:x:y', amountCents: 1, byOwner: true }]);
    expect(feeCreditOf(job)).toBe(2_450);
  });

  it('has none where nobody knows what it was priced from', () => {
    const document = documentOf(withoutOfDocument(jobOf(), 'price'));
    const prices = pricesOf();
    expect(prices.stored(document)).toBeUndefined();
    expect(prices.byBook(document)).toBeUndefined();
    expect(prices.afterAccess(document, [])).toBeUndefined();
    expect(prices.underTax(document, inputsOf([capacitor()]).tax)).toBeUndefined();
  });

  it('of a no has its fee, though nothing was offered', () => {
    const { price, lines, ...whole } = documentOf(jobOf());
    if (price === undefined) throw new Error('the job has its price');
    const fee = {
      ...whole,
      kind: 'visit_fee' as const,
      lines: lines.filter(({ key }) => key === 'visit_fee'),
      price: { ...price, inputs: { ...price.inputs, options: [] } },
    };
    expect([...(pricesOf().stored(fee)?.computedCents ?? [])]).toEqual([['visit_fee', 8_900]]);
  });

  it('has no price where the work itself cannot be priced', () => {
    const { price } = documentOf(jobOf());
    if (price === undefined) throw new Error('the job has its price');
    const twice = price.inputs.options.map((option) => ({
      ...option,
      work: [...option.work, ...option.work],
    }));
    const inputs = { ...price.inputs, options: twice };
    const job = withDocument(jobOf(), { price: { ...price, inputs } });
    expect(pricesOf().stored(documentOf(job))).toBeUndefined();
  });
});
