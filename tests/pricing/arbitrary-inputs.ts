import fc from 'fast-check';
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

export function arbitraryInputs(wishes: Wishes): fc.Arbitrary<HandInputs> {
  return fc.record({
    rates: arbitraryRates,
    tiers: arbitraryTiers,
    policy: arbitraryPolicy,
    period: fc.constantFrom(
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
    options: fc.array(arbitraryOption(wishes), { minLength: 1, maxLength: 3 }),
  });
}

export const arbitraryRates: fc.Arbitrary<HandInputs['rates']> = fc.record({
  annualBurdenedWageCents: fc.integer({ min: 3_000_000, max: 15_000_000 }),
  annualAvailableHours: fc.integer({ min: 1000, max: 2080 }),
  billableFraction: fc.constantFrom('0.35', '0.6', '0.613', '1'),
  annualTruckCents: fc.integer({ min: 0, max: 3_000_000 }),
  annualOverheadCents: fc.integer({ min: 0, max: 50_000_000 }),
  technicianCount: fc.integer({ min: 1, max: 100 }),
  margin: fc.constantFrom('0', '0.15', '0.333', '0.5'),
});

const factor = fc.constantFrom('1', '1.2', '1.4', '1.7', '2.2', '2.25', '3.0', '3.333333');

/** Factors in any order: rising ones are odd for a book, but must not break a law. */
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

export const arbitraryTax: fc.Arbitrary<HandInputs['tax']> = fc.record({
  jurisdiction: fc.constant('Example County'),
  name: fc.constant('Sales tax'),
  rate: fc.constantFrom('0', '0.06', '0.0725', '0.0825', '0.08875', '0.123456', '1'),
  taxableClasses: fc
    .subarray(['visit_fee', 'part', 'labor', 'access'] as const)
    .map((classes) => [...classes]),
  mode: fc.constantFrom('separated' as const, 'separated' as const, 'lump_sum' as const),
  basis: fc.constantFrom('item' as const, 'invoice' as const),
});

export function arbitraryWork(findingId: fc.Arbitrary<string>): fc.Arbitrary<HandWork> {
  return fc.record({
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
    systemId: fc.constantFrom('system-1', 'system-2'),
    minutes: fc.oneof(fc.constantFrom(0, 1, 20, 45), fc.integer({ min: 0, max: 600 })),
    accessGroup: fc.constantFrom('attic', 'condenser_electrical'),
    accessMinutes: fc.constantFrom(0, 0, 7, 15, 40),
    parts: fc.uniqueArray(
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
      { selector: ({ code }) => code, maxLength: 3 },
    ),
    recall: fc.integer({ min: 0, max: 6 }).map((n) => n === 0),
  });
}

/** Work for distinct findings. */
export const arbitraryDistinctWork: fc.Arbitrary<HandWork[]> = fc.uniqueArray(
  arbitraryWork(fc.integer({ min: 1, max: 20 }).map((n) => `finding-${n}`)),
  { selector: ({ findingId }) => findingId, maxLength: 5 },
);

function arbitraryOption(wishes: Wishes): fc.Arbitrary<HandOptionInput> {
  const repeatedWork = fc
    .tuple(arbitraryDistinctWork, fc.integer({ min: 0, max: 9 }))
    .map(([work, chance]) => (wishes.mistakes && chance === 0 ? [...work, ...work] : work));
  const repeatedParts = fc
    .tuple(repeatedWork, fc.integer({ min: 0, max: 9 }))
    .map(([work, chance]) =>
      wishes.mistakes && chance === 0
        ? work.map((item) => ({ ...item, parts: [...item.parts, ...item.parts] }))
        : work,
    );
  return repeatedParts.chain((work) =>
    fc.record({
      title: fc.constant('Repair'),
      work: fc.constant(work),
      adjustments: wishes.adjustments
        ? fc.oneof(
            fc.constant<HandOptionInput['adjustments']>([]),
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
      fc.integer({ min: -200, max: 200 }),
      fc.integer({ min: -5_000, max: 5_000 }),
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
    ]);
  const access = work
    .filter((item) => !item.recall && item.accessMinutes > 0)
    .filter(({ remedyClass }) => remedyClass !== 'advise' && remedyClass !== 'reset')
    .map((item) => `access:${item.systemId}:${item.accessGroup}`);
  return ['visit_fee', ...keys, ...access];
}
