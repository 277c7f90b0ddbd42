import { describe, expect, it } from 'vitest';
import { sumLines } from '../../src/pricing/index.ts';
import { assertAddsUp } from '../harness/assert-adds-up.ts';
import {
  capacitorWork,
  contactorWork,
  handWorkedQuotes,
  workedInvoice,
} from './oracle/hand-worked.ts';
import type { HandInputs, HandWork } from './oracle/price-by-hand.ts';
import { amountsByKey, priced, pricedOption, refusalCodes } from './price.ts';

describe('quotes worked by hand come out to the cent', () => {
  it.each(handWorkedQuotes)('$name', ({ inputs, expected }) => {
    const quote = priced(inputs);
    const option = pricedOption(inputs);
    expect(quote.decline.totalCents).toBe(expected.declineTotalCents);
    expect(option.taxCents).toBe(expected.taxCents);
    expect(option.totalCents).toBe(expected.totalCents);
    expect(option.totalCents - option.taxCents).toBe(expected.subtotalCents);
    assertAddsUp(option);
  });

  it('line by line, and without a line for access that takes no time', () => {
    const inputs = workedInvoice({ rate: '0.0825', taxableClasses: ['part'] });
    expect(amountsByKey(pricedOption(inputs))).toEqual({
      visit_fee: 8900,
      'part:finding-capacitor:replace_run_capacitor:capacitor_45_5': 5520,
      'labor:finding-capacitor:replace_run_capacitor': 11325,
      'part:finding-contactor:replace_contactor:contactor_30a': 6525,
      'labor:finding-contactor:replace_contactor': 7550,
      'discount:labor:finding-contactor:replace_contactor:second_task': -1510,
      tax: 994,
    });
  });

  it('class by class: parts 120.45, labor 173.65, diagnostic 89.00', () => {
    const option = pricedOption(workedInvoice({}));
    expect(option.classTotals).toEqual({ part: 12045, labor: 17365, visit_fee: 8900, access: 0 });
    expect(sumLines(option.lines)).toBe(38310);
  });
});

/**
 * Labor 151.00 an hour (45 min 113.25, 30 min 75.50, 20 min 50.33, 15 min 37.75), fee 89.00, parts
 * x3.0, no tax. `withoutTheRuleCents` is the total if the named rule were missing: each row fails
 * then.
 */
describe('each rule decides the total it is there for', () => {
  const fuse = [
    {
      code: 'fuse_3a',
      name: 'Fuse 3 A',
      unitCostCents: 100,
      quantity: 1,
      underManufacturerWarranty: false,
    },
  ];
  const warranted = capacitorWork().parts.map((part) => ({
    ...part,
    underManufacturerWarranty: true,
  }));
  const noParts = { parts: [] };

  it.each<Row>([
    {
      rule: 'a breaker reset is the visit fee and nothing else',
      work: [capacitorWork({ ...noParts, remedyClass: 'reset', minutes: 20 })],
      totalCents: 8900,
      withoutTheRuleCents: 8900 + 5033,
    },
    {
      rule: 'a reset charges its materials, but neither labor nor access',
      work: [capacitorWork({ remedyClass: 'reset', accessMinutes: 15, parts: fuse })],
      totalCents: 8900 + 300,
      withoutTheRuleCents: 8900 + 300 + 11325 + 3775,
    },
    {
      rule: 'advice is free, whatever its task lists',
      work: [capacitorWork({ remedyClass: 'advise' })],
      totalCents: 8900,
      withoutTheRuleCents: 8900 + 5520 + 11325,
    },
    {
      rule: 'looking for a cause beyond the fee is charged as a diagnose task',
      work: [capacitorWork({ ...noParts, remedyClass: 'diagnose' })],
      totalCents: 8900 + 11325,
      withoutTheRuleCents: 8900,
    },
    {
      rule: 'a part under the manufacturer’s warranty is free, its labor is not',
      work: [capacitorWork({ parts: warranted })],
      totalCents: 8900 + 11325,
      withoutTheRuleCents: 8900 + 5520 + 11325,
    },
    {
      rule: 'a recall is free: parts, labor and access',
      work: [capacitorWork({ recall: true, accessMinutes: 15 })],
      visitFee: { chargeable: false, reason: 'Our repair did not last' },
      totalCents: 0,
      withoutTheRuleCents: 5520 + 11325 + 3775,
    },
    {
      rule: 'access of one group is charged once, at the longest minutes',
      work: [
        capacitorWork({ ...noParts, accessMinutes: 15 }),
        contactorWork({ ...noParts, accessMinutes: 20 }),
      ],
      totalCents: 8900 + 11325 + 7550 - 1510 + 5033,
      withoutTheRuleCents: 8900 + 11325 + 7550 - 1510 + 5033 + 3775,
    },
    {
      rule: 'a reset does not lengthen the access of charged work',
      work: [
        capacitorWork({ ...noParts, accessMinutes: 15 }),
        contactorWork({ ...noParts, accessMinutes: 20, remedyClass: 'reset' }),
      ],
      totalCents: 8900 + 11325 + 3775,
      withoutTheRuleCents: 8900 + 11325 + 5033,
    },
    {
      rule: 'access to a second system is charged for that system too',
      work: [
        capacitorWork({ ...noParts, accessMinutes: 15 }),
        contactorWork({ ...noParts, accessMinutes: 15, systemId: 'system-2' }),
      ],
      totalCents: 8900 + 11325 + 7550 - 1510 + 3775 + 3775,
      withoutTheRuleCents: 8900 + 11325 + 7550 - 1510 + 3775,
    },
    {
      rule: 'after-hours multiplies labor and access, not parts and not the told fee',
      work: [capacitorWork({ accessMinutes: 15 })],
      period: { code: 'after_hours', laborFactor: '1.5' },
      // 169.875 -> 169.88 and 56.625 -> 56.63: each line is rounded, not the rate x 1.5.
      totalCents: 8900 + 5520 + 16988 + 5663,
      withoutTheRuleCents: 8900 + 5520 + 11325 + 3775,
    },
    {
      rule: 'the second-task discount spares the dearest labor, not the first one written',
      work: [contactorWork(noParts), capacitorWork(noParts)],
      totalCents: 8900 + 11325 + 7550 - 1510,
      withoutTheRuleCents: 8900 + 7550 + 11325 - 2265,
    },
    {
      rule: 'a free recall is not the dearest task, so the only charged one stays whole',
      work: [capacitorWork({ recall: true, minutes: 600 }), contactorWork(noParts)],
      totalCents: 8900 + 7550,
      withoutTheRuleCents: 8900 + 7550 - 1510,
    },
    {
      rule: 'the second-task discount is on labor, not on parts or access',
      work: [capacitorWork(), contactorWork({ accessMinutes: 15 })],
      totalCents: 8900 + 5520 + 11325 + 6525 + 7550 - 1510 + 3775,
      withoutTheRuleCents: 8900 + 5520 + 11325 + 6525 - 1305 + 7550 - 1510 + 3775 - 755,
    },
    {
      rule: 'the policy’s share of the fee is credited when work is accepted',
      work: [capacitorWork(noParts)],
      creditShare: '0.5',
      totalCents: 8900 + 11325 - 4450,
      withoutTheRuleCents: 8900 + 11325,
    },
    {
      rule: 'the credit never exceeds labor and access, so parts are always paid',
      work: [capacitorWork({ minutes: 20 })],
      creditShare: '1',
      totalCents: 8900 + 5520 + 5033 - 5033,
      withoutTheRuleCents: 5520 + 5033,
    },
    {
      rule: 'access counts toward the credit',
      work: [capacitorWork({ ...noParts, minutes: 20, accessMinutes: 15 })],
      creditShare: '1',
      totalCents: 8900 + 5033 + 3775 - 8808,
      withoutTheRuleCents: 8900 + 5033 + 3775 - 5033,
    },
    {
      rule: 'the credit looks at labor after its discounts',
      work: [
        capacitorWork({ ...noParts, minutes: 20 }),
        contactorWork({ ...noParts, minutes: 20 }),
      ],
      creditShare: '1',
      secondTaskDiscount: '1',
      totalCents: 8900,
      withoutTheRuleCents: 8900 + 5033 - 8900,
    },
    {
      rule: 'a reset earns no credit, its fee is the price',
      work: [capacitorWork({ remedyClass: 'reset', parts: fuse })],
      creditShare: '1',
      totalCents: 8900 + 300,
      withoutTheRuleCents: 300,
    },
    {
      rule: 'a taxed fee is not credited so far that its saved tax makes accepting cheaper',
      work: [capacitorWork({ ...noParts, minutes: 20 })],
      creditShare: '1',
      tax: { rate: '0.08', taxableClasses: ['visit_fee'] },
      // Declining is 89.00 + 7.12. Crediting 50.33 would leave 89.00 + 3.09; 46.60 leaves 96.12.
      totalCents: 9612,
      withoutTheRuleCents: 8900 + 309,
    },
    {
      rule: 'a credit lowers the taxed amount of the fee',
      work: [capacitorWork(noParts)],
      creditShare: '0.5',
      tax: { rate: '0.10', taxableClasses: ['visit_fee', 'labor'] },
      totalCents: 8900 + 11325 - 4450 + 1578,
      withoutTheRuleCents: 8900 + 11325 - 4450 + 2023,
    },
    {
      rule: 'a discount lowers the taxed amount of labor',
      work: [capacitorWork(noParts), contactorWork(noParts)],
      tax: { rate: '0.10', taxableClasses: ['labor'] },
      totalCents: 8900 + 17365 + 1737,
      withoutTheRuleCents: 8900 + 17365 + 1888,
    },
    {
      rule: 'a credit of the fee does not lower the taxed amount of parts',
      work: [capacitorWork()],
      creditShare: '1',
      tax: { rate: '0.10', taxableClasses: ['part'] },
      totalCents: 5520 + 11325 + 552,
      withoutTheRuleCents: 5520 + 11325,
    },
  ])('$rule', (row) => {
    const option = pricedOption(inputsOf(row));
    assertAddsUp(option);
    expect(option.totalCents).toBe(row.totalCents);
    expect(row.withoutTheRuleCents).not.toBe(row.totalCents);
  });
});

describe('the paper', () => {
  it('lists fee, then each task’s parts, labor and discount, then access, credit and tax', () => {
    const inputs = inputsOf({
      work: [contactorWork(), capacitorWork({ accessMinutes: 15 })],
      creditShare: '0.5',
      adjustments: [
        {
          aimedAt: 'labor:finding-contactor:replace_contactor',
          amountCents: 500,
          reason: 'Seized screws',
          byOwner: false,
        },
      ],
    });
    expect(pricedOption(inputs).lines.map(({ key }) => key)).toEqual([
      'visit_fee',
      'part:finding-contactor:replace_contactor:contactor_30a',
      'labor:finding-contactor:replace_contactor',
      'discount:labor:finding-contactor:replace_contactor:second_task',
      'adjustment:labor:finding-contactor:replace_contactor:1',
      'part:finding-capacitor:replace_run_capacitor:capacitor_45_5',
      'labor:finding-capacitor:replace_run_capacitor',
      'access:system-1:condenser_electrical',
      'credit:visit_fee',
      'tax',
    ]);
  });

  it('says in one sentence per line how a pencil gets there', () => {
    const option = pricedOption(
      inputsOf({
        work: [
          contactorWork(),
          capacitorWork({ accessMinutes: 15 }),
          capacitorWork({
            findingId: 'finding-breaker',
            taskCode: 'reset_breaker',
            remedyClass: 'reset',
            parts: [],
          }),
        ],
        period: { code: 'after_hours', laborFactor: '1.5' },
        creditShare: '0.5',
        tax: { rate: '0.0825', taxableClasses: ['part'] },
      }),
    );
    expect(option.lines.map(({ why }) => why.sentence)).toEqual([
      'The fee for this trip, as told when the visit was booked: $89.00.',
      'One at $65.25.',
      '30 minutes / 60 x $151.00 an hour x 1.5 (after hours) = $113.25.',
      '20% off the labor of a second task: 20% of $113.25 = $22.65.',
      'One at $55.20.',
      '45 minutes / 60 x $151.00 an hour x 1.5 (after hours) = $169.88.',
      'No labor is charged for a reset.',
      '15 minutes / 60 x $151.00 an hour x 1.5 (after hours) = $56.63. Charged once for all work behind it.',
      '50% of the visit fee of $89.00 is credited when work is accepted: $44.50.',
      '8.25% of $120.45 (parts) = $9.94.',
    ]);
  });

  it('explains tax line by line where it is rounded line by line', () => {
    const option = pricedOption(
      workedInvoice({ rate: '0.0825', taxableClasses: ['part'], basis: 'item' }),
    );
    expect(option.lines.at(-1)?.why.sentence).toBe(
      '8.25% of each taxed line, each rounded to the cent: $5.38 + $4.55 = $9.93.',
    );
  });

  it('keeps the fee line at zero with its reason when there is no fee', () => {
    const quote = priced(
      inputsOf({ work: [], visitFee: { chargeable: false, reason: 'Parts return' } }),
    );
    expect(quote.decline.totalCents).toBe(0);
    expect(quote.decline.lines[0]?.why.sentence).toBe('No visit fee: Parts return.');
  });

  it('prices each option by itself: what one adjusts, another does not feel', () => {
    const base = workedInvoice({});
    const [option] = base.options;
    if (option === undefined) throw new Error('the worked invoice has an option');
    const free = { aimedAt: 'visit_fee', amountCents: -8900, reason: 'Goodwill', byOwner: true };
    const quote = priced({ ...base, options: [{ ...option, adjustments: [free] }, option] });
    expect(quote.options.map(({ totalCents }) => totalCents)).toEqual([29410, 38310]);
    expect(quote.decline.totalCents).toBe(8900);
  });
});

describe('what the engine refuses', () => {
  it.each<{ name: string; work: HandWork[]; codes: string[] }>([
    {
      name: 'one finding charged by two tasks',
      work: [capacitorWork(), capacitorWork({ taskCode: 'replace_other_capacitor' })],
      codes: ['duplicate_finding'],
    },
    {
      name: 'one part on two lines of a task, where a quantity belongs',
      work: [capacitorWork({ parts: [...capacitorWork().parts, ...capacitorWork().parts] })],
      codes: ['duplicate_part'],
    },
    {
      name: 'an amount too large to be held to the cent',
      work: [
        capacitorWork({
          parts: capacitorWork().parts.map((part) => ({
            ...part,
            unitCostCents: 100_000_000_000,
            quantity: 10_000,
          })),
        }),
      ],
      codes: ['amount_too_large'],
    },
  ])('$name', ({ work, codes }) => {
    const tiers = { mode: 'flat' as const, steps: [{ upToCents: null, factor: '100' }] };
    expect(refusalCodes({ ...inputsOf({ work }), tiers })).toEqual(codes);
  });
});

interface RowInputs {
  work: HandWork[];
  visitFee?: HandInputs['visitFee'];
  period?: HandInputs['period'];
  creditShare?: string;
  secondTaskDiscount?: string;
  tax?: Partial<HandInputs['tax']>;
  adjustments?: HandInputs['options'][number]['adjustments'];
}

interface Row extends RowInputs {
  rule: string;
  totalCents: number;
  withoutTheRuleCents: number;
}

function inputsOf(row: RowInputs): HandInputs {
  const base = workedInvoice(row.tax ?? {});
  return {
    ...base,
    policy: {
      ...base.policy,
      visitFeeCreditShare: row.creditShare ?? '0',
      secondTaskDiscount: row.secondTaskDiscount ?? '0.20',
    },
    period: row.period ?? base.period,
    visitFee: row.visitFee ?? base.visitFee,
    options: [{ title: 'Repair', work: row.work, adjustments: row.adjustments ?? [] }],
  };
}
