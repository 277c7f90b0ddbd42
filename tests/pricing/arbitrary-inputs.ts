import fc from 'fast-check';
import type {
  HandAgreement,
  HandBurden,
  HandEarlierWork,
  HandGood,
  HandPart,
  HandSummedRates,
  HandWageRates,
} from './oracle/hand-inputs.ts';
import { workedRates } from './oracle/hand-worked.ts';
import type { HandInputs, HandOptionInput, HandWork } from './oracle/price-by-hand.ts';

/*
 * Random quotes of every feature, as plain JSON. Pools are small on purpose: equal minutes, shared
 * access groups and repeated part codes are where rules meet.
 */

export interface Wishes {
  /** Whether some quotes should be wrong: repeated findings, adjustments with a bad aim. */
  readonly mistakes: boolean;
  readonly adjustments: boolean;
}

/**
 * Without mistakes the tiers never rise, so that any work, with measured goods or without, may be
 * put into the quote. With mistakes half of the quotes are right all the same, and some have
 * rising tiers: most of those have no goods and are priced, the others are refused.
 */
export function arbitraryInputs(wishes: Wishes): fc.Arbitrary<HandInputs> {
  const right = { ...wishes, mistakes: false };
  const usual = arbitraryQuote(right, arbitraryFallingTiers, arbitraryDistinctWork);
  if (!wishes.mistakes) return usual;
  return fc.oneof(
    { weight: 9, arbitrary: usual },
    { weight: 4, arbitrary: arbitraryQuote(right, arbitraryTiers, workWithoutGoods) },
    { weight: 4, arbitrary: arbitraryQuote(wishes, arbitraryFallingTiers, arbitraryDistinctWork) },
    { weight: 1, arbitrary: arbitraryQuote(wishes, arbitraryTiers, arbitraryDistinctWork) },
  );
}

function arbitraryQuote(
  wishes: Wishes,
  tiers: fc.Arbitrary<HandInputs['tiers']>,
  work: fc.Arbitrary<HandWork[]>,
): fc.Arbitrary<HandInputs> {
  const always = fc.record({
    rates: arbitraryRates,
    tiers,
    policy: arbitraryPolicy,
    period: fc.constantFrom(
      { code: 'regular', laborFactor: '1' },
      { code: 'regular', laborFactor: '1' },
      { code: 'after_hours', laborFactor: '1.5' },
      { code: 'sunday', laborFactor: '1.333333' },
    ),
    visitFee: fc.oneof(
      { weight: 4, arbitrary: arbitraryFee },
      {
        weight: 1,
        arbitrary: fc.constant({ chargeable: false as const, reason: 'Parts return' }),
      },
    ),
    tax: arbitraryTax,
    options: fc.array(arbitraryOption(wishes, work), { minLength: 1, maxLength: 3 }),
  });
  return fc
    .tuple(
      always,
      sometimes(arbitraryAgreement.map((agreement) => ({ agreement }))),
      sometimes(arbitraryEarlierWork.map((earlierWork) => ({ earlierWork }))),
    )
    .map(([inputs, agreed, earlier]): HandInputs => ({ ...inputs, ...agreed, ...earlier }))
    .map((inputs) => (wishes.mistakes ? inputs : withoutAimAtPaidAccess(inputs)));
}

/** Access charged before may have no line on a change order, so an aim at it may miss. */
function withoutAimAtPaidAccess(inputs: HandInputs): HandInputs {
  const paid = (inputs.earlierWork?.access ?? []).map(
    ({ systemId, accessGroup }) => `access:${systemId}:${accessGroup}`,
  );
  const options = inputs.options.map((option) => ({
    ...option,
    adjustments: option.adjustments.filter(({ aimedAt }) => !paid.includes(aimedAt)),
  }));
  return { ...inputs, options };
}

/** An optional field, there in every second case. */
function sometimes<Fields extends object>(
  fields: fc.Arbitrary<Fields>,
): fc.Arbitrary<Fields | Record<never, never>> {
  return fc.oneof(fc.constant({}), fields);
}

const hourlyCarry = {
  annualAvailableHours: fc.integer({ min: 1000, max: 2080 }),
  billableFraction: fc.constantFrom('0.35', '0.6', '0.613', '1'),
  annualTruckCents: fc.integer({ min: 0, max: 3_000_000 }),
  annualOverheadCents: fc.integer({ min: 0, max: 50_000_000 }),
  technicianCount: fc.integer({ min: 1, max: 100 }),
  margin: fc.constantFrom('0', '0.15', '0.333', '0.5'),
};

const arbitraryBurden: fc.Arbitrary<HandBurden> = fc.oneof(
  fc.record({
    kind: fc.constant('share_of_wages' as const),
    name: fc.constant('Share'),
    share: fc.constantFrom('0', '0.006', '0.027', '0.0765', '0.333333', '1'),
    onWagesUpToCents: fc.oneof(
      fc.constantFrom(null, 0, 700_000, 900_000),
      fc.integer({ min: 0, max: 12_000_000 }),
    ),
  }),
  fc.record({
    kind: fc.constant('yearly_amount' as const),
    name: fc.constant('Amount'),
    annualCents: fc.integer({ min: 0, max: 1_000_000 }),
  }),
);

const summedRates: fc.Arbitrary<HandSummedRates> = fc.record({
  annualBurdenedWageCents: fc.integer({ min: 3_000_000, max: 15_000_000 }),
  ...hourlyCarry,
});

const wageRates: fc.Arbitrary<HandWageRates> = fc.record({
  wage: fc.record({
    hourlyCents: fc.integer({ min: 1_500, max: 6_000 }),
    annualPaidHours: fc.integer({ min: 1000, max: 2_200 }),
    burden: fc.array(arbitraryBurden, { maxLength: 5 }),
  }),
  ...hourlyCarry,
});

/** Exactly 151.00 an hour, at which earlier labor below is as dear as new labor. */
const roundRates = workedRates({ annualOverheadCents: 21011504 });

export const arbitraryRates: fc.Arbitrary<HandInputs['rates']> = fc.oneof(
  { weight: 2, arbitrary: summedRates },
  { weight: 2, arbitrary: wageRates },
  { weight: 2, arbitrary: fc.constant(roundRates) },
);

const factor = fc.constantFrom('1', '1.2', '1.4', '1.7', '2.2', '2.25', '3.0', '3.333333');

/** Factors in any order: rising ones are odd for a book, but must not break a law of parts. */
export const arbitraryTiers: fc.Arbitrary<HandInputs['tiers']> = fc
  .record({
    mode: fc.constantFrom('progressive' as const, 'flat' as const),
    ends: fc.uniqueArray(fc.integer({ min: 1, max: 60_000 }), { maxLength: 4 }),
    factors: fc.array(factor, { minLength: 5, maxLength: 5 }),
  })
  .map(({ mode, ends, factors }) => ({
    mode,
    steps: [...ends.sort((a, b) => a - b), null].map((upToCents, at) => ({
      upToCents,
      factor: factors[at] ?? '1',
    })),
  }));

/** Factors that never rise, as a book with measured goods needs them. */
export const arbitraryFallingTiers: fc.Arbitrary<HandInputs['tiers']> = arbitraryTiers.map(
  ({ mode, steps }) => {
    const falling = steps.map((step) => step.factor).sort((a, b) => Number(b) - Number(a));
    return { mode, steps: steps.map((step, at) => ({ ...step, factor: falling[at] ?? '1' })) };
  },
);

const arbitraryPolicy: fc.Arbitrary<HandInputs['policy']> = fc.record({
  secondTaskDiscount: fc.constantFrom('0', '0.20', '0.333', '0.5', '1'),
  visitFeeCreditShare: fc.constantFrom('0', '0.5', '0.777', '1'),
  fairBandTolerance: fc.constantFrom('0', '0.10', '0.125', '1'),
  causeSearchMinutes: fc.constant(15),
  quoteValidityDays: fc.constant(30),
});

const arbitraryFee = fc.record({
  chargeable: fc.constant(true as const),
  amountCents: fc.oneof(fc.constantFrom(0, 1, 8900, 14900), fc.integer({ min: 0, max: 40_000 })),
});

const discountShare = fc.constantFrom('0', '0.05', '0.10', '0.333', '1');

/** Some classes have no share at all, some a share of nothing. */
export const arbitraryAgreement: fc.Arbitrary<HandAgreement> = fc.record({
  code: fc.constant('yearly'),
  name: fc.constant('Yearly care'),
  discounts: fc.record(
    {
      visit_fee: discountShare,
      part: discountShare,
      labor: discountShare,
      access: discountShare,
    },
    { requiredKeys: [] },
  ),
});

const systemId = fc.constantFrom('system-1', 'system-2');
const accessGroup = fc.constantFrom('attic', 'condenser_electrical');

/** The pool holds 1, 20 and 45 minutes at 151.00 an hour: as dear as new labor, no dearer. */
export const arbitraryEarlierWork: fc.Arbitrary<HandEarlierWork> = fc.record({
  access: fc.array(fc.record({ systemId, accessGroup, minutes: fc.constantFrom(0, 7, 15, 40) }), {
    maxLength: 3,
  }),
  labor: fc.array(
    fc.record({
      taskName: fc.constant('Earlier task'),
      amountCents: fc.oneof(
        { weight: 3, arbitrary: fc.constantFrom(0, 252, 5_033, 11_325) },
        { weight: 1, arbitrary: fc.integer({ min: 0, max: 60_000 }) },
      ),
    }),
    { maxLength: 3 },
  ),
});

const taxRule = fc.record({
  jurisdiction: fc.constant('Example County'),
  name: fc.constant('Sales tax'),
  rate: fc.constantFrom('0', '0.06', '0.0725', '0.0825', '0.08875', '0.123456', '1'),
  taxableClasses: fc
    .subarray(['visit_fee', 'labor', 'access', 'part', 'material', 'equipment'] as const)
    .map((classes) => [...classes]),
  mode: fc.constantFrom('separated' as const, 'separated' as const, 'lump_sum' as const),
  basis: fc.constantFrom('item' as const, 'invoice' as const),
});

/** A share of 0 separates whatever has a good, a share of 1 nothing at all. */
const separateAboveShare = fc.constantFrom('0', '0.10', '0.333', '0.5', '1');

export const arbitraryTax: fc.Arbitrary<HandInputs['tax']> = fc
  .tuple(taxRule, sometimes(fc.record({ separateAboveShare })))
  .map(([rule, share]) => ({ ...rule, ...share }));

const goodsTaxClass = sometimes(
  fc.record({
    taxClass: fc.constantFrom('part' as const, 'material' as const, 'equipment' as const),
  }),
);

const arbitraryPart: fc.Arbitrary<HandPart> = fc
  .tuple(
    fc.record({
      code: fc.constantFrom('part_a', 'part_b', 'part_c'),
      name: fc.constant('Part'),
      unitCostCents: fc.oneof(
        fc.constantFrom(0, 1, 1840, 2500, 2501),
        fc.integer({ min: 0, max: 90_000 }),
      ),
      quantity: fc.integer({ min: 1, max: 4 }),
      underManufacturerWarranty: fc.integer({ min: 0, max: 4 }).map((n) => n === 0),
    }),
    goodsTaxClass,
  )
  .map(([part, taxClass]) => ({ ...part, ...taxClass }));

/** Thousandths of a pound, and packs that do not come out even. */
const arbitraryGood: fc.Arbitrary<HandGood> = fc
  .tuple(
    fc.record({
      code: fc.constantFrom('good_a', 'good_b'),
      name: fc.constant('Good'),
      unit: fc.constantFrom('[lb_av]' as const, '[oz_av]' as const, '[ft_i]' as const),
      quantity: fc.oneof(
        fc.constantFrom('0.001', '0.5', '1', '2.50', '3.5', '25'),
        fc.integer({ min: 1, max: 30_000 }).map((thousandths) => (thousandths / 1000).toFixed(3)),
      ),
      packCostCents: fc.oneof(
        fc.constantFrom(0, 1, 2500, 31_337),
        fc.integer({ min: 0, max: 90_000 }),
      ),
      packQuantity: fc.constantFrom('1', '25', '24', '3', '7.5', '0.333', '50.000'),
    }),
    goodsTaxClass,
  )
  .map(([good, taxClass]) => ({ ...good, ...taxClass }));

export function arbitraryWork(findingId: fc.Arbitrary<string>): fc.Arbitrary<HandWork> {
  const always = fc.record({
    findingId,
    faultCode: fc.constantFrom('run_capacitor_failed', 'drain_plugged'),
    taskCode: fc.constantFrom('task_a', 'task_b', 'task_c'),
    taskName: fc.constant('Task'),
    remedyClass: fc.constantFrom(
      'reset',
      'clean',
      'adjust',
      'repair',
      'replace',
      'accessory',
      'diagnose',
      'advise',
    ),
    systemId,
    minutes: fc.oneof(
      { weight: 2, arbitrary: fc.constantFrom(0, 1, 20, 45) },
      { weight: 1, arbitrary: fc.integer({ min: 0, max: 600 }) },
    ),
    accessGroup,
    accessMinutes: fc.constantFrom(0, 0, 7, 15, 40),
    parts: fc.uniqueArray(arbitraryPart, { selector: ({ code }) => code, maxLength: 3 }),
    recall: fc.integer({ min: 0, max: 6 }).map((n) => n === 0),
  });
  const goods = fc.uniqueArray(arbitraryGood, { selector: ({ code }) => code, maxLength: 2 });
  return fc
    .tuple(always, sometimes(fc.record({ goods })), fc.integer({ min: 0, max: 9 }))
    .map(([work, measured, chance]) =>
      // Work that mends a second finding costs what it costs.
      chance === 0
        ? { ...work, ...measured, alsoFindingIds: [`also-${work.findingId}`] }
        : { ...work, ...measured },
    );
}

/** Work for distinct findings. */
export const arbitraryDistinctWork: fc.Arbitrary<HandWork[]> = fc.uniqueArray(
  arbitraryWork(fc.integer({ min: 1, max: 20 }).map((n) => `finding-${n}`)),
  { selector: ({ findingId }) => findingId, maxLength: 5 },
);

const workWithoutGoods: fc.Arbitrary<HandWork[]> = arbitraryDistinctWork.map((work) =>
  work.map(({ goods: _, ...item }) => item),
);

/** One work in ten has the mistake made to it. */
function seldom(
  wishes: Wishes,
  work: fc.Arbitrary<HandWork[]>,
  mistake: (work: HandWork[]) => HandWork[],
): fc.Arbitrary<HandWork[]> {
  if (!wishes.mistakes) return work;
  return fc
    .tuple(work, fc.integer({ min: 0, max: 9 }))
    .map(([right, chance]) => (chance === 0 ? mistake(right) : right));
}

function repeatParts(work: HandWork[]): HandWork[] {
  return work.map((item) => ({ ...item, parts: [...item.parts, ...item.parts] }));
}

function repeatGoods(work: HandWork[]): HandWork[] {
  return work.map((item) => {
    const { goods } = item;
    return goods === undefined ? item : { ...item, goods: [...goods, ...goods] };
  });
}

/** The first good of each task takes the code of its last part. */
function nameGoodsAsParts(work: HandWork[]): HandWork[] {
  return work.map((item) => {
    const code = item.parts.at(-1)?.code;
    const [first, ...others] = item.goods ?? [];
    if (code === undefined || first === undefined) return item;
    return { ...item, goods: [{ ...first, code }, ...others] };
  });
}

/** The first task claims to mend what the last one does; alone, what it mends itself. */
function mendTwice(work: HandWork[]): HandWork[] {
  const last = work.at(-1)?.findingId;
  const [first, ...others] = work;
  if (last === undefined || first === undefined) return work;
  return [{ ...first, alsoFindingIds: ['also-nothing-else', last] }, ...others];
}

function arbitraryOption(
  wishes: Wishes,
  distinctWork: fc.Arbitrary<HandWork[]>,
): fc.Arbitrary<HandOptionInput> {
  const mistakes = [
    (work: HandWork[]) => [...work, ...work],
    repeatParts,
    repeatGoods,
    nameGoodsAsParts,
    mendTwice,
  ];
  const arbitrary = mistakes.reduce((work, mistake) => seldom(wishes, work, mistake), distinctWork);
  return arbitrary.chain((work) =>
    fc.record({
      title: fc.constant('Repair'),
      work: fc.constant(work),
      adjustments: wishes.adjustments
        ? fc.oneof(
            fc.constant<HandOptionInput['adjustments']>([]),
            // One alone is seldom refused; several are where sums and shadows meet.
            fc.array(arbitraryAdjustment(keysOf(work), wishes), { maxLength: 1 }),
            fc.array(arbitraryAdjustment(keysOf(work), wishes), { maxLength: 4 }),
          )
        : fc.constant<HandOptionInput['adjustments']>([]),
    }),
  );
}

function arbitraryAdjustment(keys: string[], wishes: Wishes) {
  return fc.record({
    aimedAt: fc.constantFrom(...keys, ...(wishes.mistakes ? ['labor:nothing:nothing'] : [])),
    amountCents: fc.oneof(
      { weight: 4, arbitrary: fc.integer({ min: -200, max: 200 }) },
      { weight: 1, arbitrary: fc.integer({ min: -5_000, max: 5_000 }) },
    ),
    reason: fc.constantFrom(
      'Long walk to the roof',
      'Neighbor of a regular',
      ...(wishes.mistakes ? [' '] : []),
    ),
    byOwner: fc.boolean(),
  });
}

function keysOf(work: HandWork[]): string[] {
  const keys = work
    .filter(({ remedyClass }) => remedyClass !== 'advise')
    .flatMap((item) => [
      `labor:${item.findingId}:${item.taskCode}`,
      ...item.parts.map((part) => `part:${item.findingId}:${item.taskCode}:${part.code}`),
      ...(item.goods ?? []).map((one) => `good:${item.findingId}:${item.taskCode}:${one.code}`),
    ]);
  const access = work
    .filter((item) => !item.recall && item.accessMinutes > 0)
    .filter(({ remedyClass }) => remedyClass !== 'advise' && remedyClass !== 'reset')
    .map((item) => `access:${item.systemId}:${item.accessGroup}`);
  return ['visit_fee', ...keys, ...access];
}
