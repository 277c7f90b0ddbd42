import fc from 'fast-check';
import { describe, expect, it, test } from 'vitest';
import {
  type MendedMachine,
  type Repair,
  repairOrReplace,
} from '../../src/repair-or-replace/index.ts';
import { remedyClassSchema } from '../../src/trade/index.ts';
import { compressor, machineOf, neverCovered, ofUnit, repairFor } from './facts.ts';

const talk = 'repair_and_talk_about_replacing';
const sixAndAHalf = [{ kind: 'condensing_unit', tonsUpTo: 3, typicalPriceCents: 650_000 }] as const;

describe('the figures that people publish', () => {
  // Common practice, no source; the first, second and fourth row are worked on public pages.
  test.each<
    [name: string, years: number, dollars: number, prices: typeof sixAndAHalf | [], word: string]
  >([
    ['10 years and 350 dollars make 3,500: repair', 10, 350, [], 'repair'],
    ['12 years and 500 dollars make 6,000: a word about replacing', 12, 500, [], talk],
    ['10 years and 500 dollars make exactly 5,000: repair', 10, 500, [], 'repair'],
    ['a cent more than exactly 5,000', 10, 500.01, [], talk],
    ['1,950 of 6,500 dollars is 30 percent: repair', 1, 1_950, sixAndAHalf, 'repair'],
    ['3,250 of 6,500 dollars is exactly one half: repair', 1, 3_250, sixAndAHalf, 'repair'],
    ['a cent more than one half', 1, 3_250.01, sixAndAHalf, talk],
    ['more than a third, which only some go by', 1, 2_200, sixAndAHalf, 'repair'],
    ['20 years old and a part for 230 dollars', 20, 230, sixAndAHalf, 'repair'],
    ['30 years old and exactly 400 dollars', 30, 400, sixAndAHalf, 'repair'],
    ['30 years old and more than 400 dollars', 30, 400.01, sixAndAHalf, talk],
  ])('%s', (_name, years, dollars, prices, word) => {
    expect(repairOrReplace(machineOf(years), repairFor(dollars), prices).word).toBe(word);
  });

  it('are shown with what went into them, and say that they have no source', () => {
    const { rulesOfThumb } = repairOrReplace(machineOf(16), repairFor(2_200), sixAndAHalf);
    expect(rulesOfThumb).toEqual([
      {
        code: 'age_times_repair',
        basis: 'common practice, no source',
        outcome: 'holds',
        decides: true,
        ageYears: 16,
        repairCents: 220_000,
        replacementCents: null,
        threshold: { value: 500_000, unit: 'cents' },
        sentence: '16 years times $2,200.00 is $35,200.00, above $5,000.00.',
      },
      expect.objectContaining({
        code: 'half_of_replacement',
        outcome: 'does_not_hold',
        decides: true,
        replacementCents: 650_000,
        threshold: { value: 325_000, unit: 'cents' },
        sentence: '$2,200.00 is not above half of what a new machine typically costs, $6,500.00.',
      }),
      expect.objectContaining({ code: 'third_of_replacement', outcome: 'holds', decides: false }),
      expect.objectContaining({
        code: 'age_alone',
        outcome: 'holds',
        decides: false,
        sentence: 'It is 16 years old, above 15. Age alone decides nothing.',
      }),
    ]);
  });

  it('stay open where a figure is missing, and nothing is guessed', () => {
    const { rulesOfThumb, ageYears, typicalReplacementCents } = repairOrReplace(
      machineOf(undefined),
      repairFor(9_000),
      [],
    );
    expect({ ageYears, typicalReplacementCents }).toEqual({
      ageYears: null,
      typicalReplacementCents: null,
    });
    expect(rulesOfThumb.map(({ outcome }) => outcome)).toEqual(Array(4).fill('unknown'));
    expect(rulesOfThumb[1]?.threshold).toEqual({ value: null, unit: 'cents' });
  });
});

describe('age', () => {
  test.each([
    ['2014-07-15', 12],
    ['2014-07-16', 11],
    ['2014-12-31', 11],
    ['2026-07-15', 0],
    ['2026-07-16', null],
    [undefined, null],
  ])('of a machine installed on %s is %s whole years', (installedOn, years) => {
    const machine = machineOf(undefined, installedOn === undefined ? {} : { installedOn });
    expect(repairOrReplace(machine, repairFor(500), []).ageYears).toBe(years);
  });
});

describe('the typical price of a new machine', () => {
  const book = [
    { kind: 'condensing_unit', tonsUpTo: 2.5, typicalPriceCents: 500_000 },
    { kind: 'condensing_unit', tonsUpTo: 3.5, typicalPriceCents: 650_000 },
    { kind: 'condensing_unit', tonsUpTo: null, typicalPriceCents: 800_000 },
    { kind: 'furnace', tonsUpTo: null, typicalPriceCents: 400_000 },
    { kind: 'heat_pump', tonsUpTo: 3, typicalPriceCents: 900_000 },
  ] as const;
  test.each<[name: string, change: Partial<MendedMachine>, cents: number | null]>([
    ['of the smallest row that holds it', { tons: 3 }, 650_000],
    ['of a row whose end it is', { tons: 2.5 }, 500_000],
    ['of any size above the rows', { tons: 5 }, 800_000],
    ['of a kind without sizes', { kind: 'furnace' }, 400_000],
    ['of a kind the book does not list', { kind: 'mini_split' }, null],
    ['larger than the last row of its kind', { kind: 'heat_pump', tons: 4 }, null],
  ])('%s', (_name, change, cents) => {
    const { typicalReplacementCents } = repairOrReplace(machineOf(3, change), repairFor(500), book);
    expect(typicalReplacementCents).toBe(cents);
  });

  it('is not guessed from a size nobody recorded', () => {
    const { tons: _tons, ...unread } = machineOf(3);
    const priceOf = (kind: 'condensing_unit' | 'furnace') =>
      repairOrReplace({ ...unread, kind }, repairFor(500), book).typicalReplacementCents;
    expect([priceOf('condensing_unit'), priceOf('furnace')]).toEqual([null, 400_000]);
  });
});

describe('a warranty', () => {
  test.each<
    [name: string, machine: MendedMachine, parts: Repair['work'][number]['parts'], reason: string]
  >([
    [
      'that covers the part',
      machineOf(8, { partsWarrantyUntil: '2027-01-01' }),
      [ofUnit],
      'under_warranty',
    ],
    [
      'on its last day',
      machineOf(8, { partsWarrantyUntil: '2026-07-15' }),
      [ofUnit],
      'under_warranty',
    ],
    [
      'that ended yesterday',
      machineOf(8, { partsWarrantyUntil: '2026-07-14' }),
      [ofUnit],
      'rule_of_money_holds',
    ],
    [
      'that covers another part of the work',
      machineOf(8, { partsWarrantyUntil: '2027-01-01' }),
      [neverCovered, ofUnit],
      'under_warranty',
    ],
    [
      'that no part of the work falls under',
      machineOf(8, { partsWarrantyUntil: '2027-01-01' }),
      [neverCovered],
      'rule_of_money_holds',
    ],
    [
      'of the compressor itself',
      machineOf(8, { partsWarrantyUntil: '2020-01-01', compressorWarrantyUntil: '2028-01-01' }),
      [compressor],
      'under_warranty',
    ],
    [
      'of the unit, for a compressor without its own',
      machineOf(8, { partsWarrantyUntil: '2028-01-01' }),
      [compressor],
      'under_warranty',
    ],
    [
      'of the compressor, for another part',
      machineOf(8, { partsWarrantyUntil: '2020-01-01', compressorWarrantyUntil: '2028-01-01' }),
      [ofUnit],
      'rule_of_money_holds',
    ],
    [
      'that nobody recorded, on a machine it may still cover',
      machineOf(10),
      [ofUnit],
      'warranty_not_recorded',
    ],
    [
      'that nobody recorded, on a machine of unknown age',
      machineOf(undefined),
      [ofUnit],
      'warranty_not_recorded',
    ],
    [
      'that nobody recorded, on a machine too old for it',
      machineOf(11),
      [ofUnit],
      'rule_of_money_holds',
    ],
  ])('%s', (_name, machine, parts, reason) => {
    const answer = repairOrReplace(machine, repairFor(5_000, { parts: [...parts] }), sixAndAHalf);
    expect(answer.reason).toBe(reason);
    expect(answer.word).toBe(reason === 'rule_of_money_holds' ? talk : 'repair');
  });

  it('is told with the days it still runs; one that is not recorded is told as none', () => {
    const machine = machineOf(8, {
      partsWarrantyUntil: '2026-07-15',
      compressorWarrantyUntil: '2026-08-14',
      laborWarrantyUntil: '2026-07-14',
    });
    expect(repairOrReplace(machine, repairFor(500), []).warranties).toEqual({
      parts: { until: '2026-07-15', runs: true, daysLeft: 0 },
      compressor: { until: '2026-08-14', runs: true, daysLeft: 30 },
      labor: { until: '2026-07-14', runs: false, daysLeft: 0 },
    });
    expect(repairOrReplace(machineOf(8), repairFor(500), []).warranties).toEqual({
      parts: null,
      compressor: null,
      labor: null,
    });
  });
});

describe('the refrigerant', () => {
  const saidOf = (refrigerant: string | undefined) => {
    const { refrigerant: _own, ...unread } = machineOf(8);
    const machine = { ...unread, ...(refrigerant !== undefined && { refrigerant }) };
    return repairOrReplace(machine, repairFor(500), []).refrigerant;
  };

  test.each([
    ['R22', /not been made in or imported into the United States since 2020/, /40 CFR 82/],
    ['R-22', /recovered, reclaimed or stocked before/, /40 CFR 82/],
    ['R-410A', /Service of what stands goes on/, /40 CFR 84 subpart B/],
    ['R-410A', /January 1, 2025; R-410A has 2,088/, /40 CFR 84\.54/],
    ['R-410A', /can burn \(A2L\) never goes into this machine/, /subpart G, appendix W/],
    ['R-22', /can burn \(A2L\) never goes into this machine/, /subpart G, appendix W/],
    ['R-454B', /warming potential of 466, below the 700/, /40 CFR 84\.54/],
    ['R-32', /R-32 can burn/, /ASHRAE Standard 34/],
    ['R-290', /Of R-290 nothing is recorded here/, /no source/],
    [undefined, /not recorded/, /no source/],
  ])('%s is told as a fact with its source: %s', (refrigerant, sentence, source) => {
    const fact = saidOf(refrigerant).find((each) => sentence.test(each.sentence));
    expect(fact?.source).toMatch(source);
  });

  it('never turns the word: R-22 in an old machine is a fact, no reason', () => {
    const [r22, r410a] = ['R-22', 'R-410A'].map(
      (refrigerant) => repairOrReplace(machineOf(14, { refrigerant }), repairFor(350), []).word,
    );
    expect([r22, r410a]).toEqual(['repair', 'repair']);
  });
});

const anyClass = fc.constantFrom(...remedyClassSchema.options);
const anyPart = fc.constantFrom(neverCovered, ofUnit, compressor);
const anyRepair: fc.Arbitrary<Repair> = fc.record({
  repairCents: fc.integer({ min: 0, max: 2_000_000 }),
  work: fc.array(fc.record({ remedyClass: anyClass, parts: fc.array(anyPart, { maxLength: 3 }) }), {
    maxLength: 3,
  }),
});
const anyDay = fc.constantFrom('2019-05-01', '2026-07-14', '2026-07-15', '2030-01-01');
const anyMachine: fc.Arbitrary<MendedMachine> = fc
  .tuple(
    fc.option(fc.integer({ min: 0, max: 40 }), { nil: undefined }),
    fc.record(
      {
        partsWarrantyUntil: anyDay,
        compressorWarrantyUntil: anyDay,
        laborWarrantyUntil: anyDay,
        refrigerant: fc.constantFrom('R-22', 'R-410A', 'R-454B', 'R-290'),
      },
      { requiredKeys: [] },
    ),
  )
  .map(([age, change]) => machineOf(age, change));
const anyPrices = fc
  .option(fc.integer({ min: 100_000, max: 2_000_000 }))
  .map((cents) =>
    cents === null
      ? []
      : [{ kind: 'condensing_unit' as const, tonsUpTo: null, typicalPriceCents: cents }],
  );

describe('whatever the facts are', () => {
  const wordOf = (...facts: Parameters<typeof repairOrReplace>) => repairOrReplace(...facts).word;

  it('talks often enough in these cases for the laws below to mean something', () => {
    const cases = fc.sample(fc.tuple(anyMachine, anyRepair, anyPrices), {
      numRuns: 1_000,
      seed: 1,
    });
    const talks = cases.filter((facts) => wordOf(...facts) === talk).length;
    expect(talks).toBeGreaterThan(100);
    expect(talks).toBeLessThan(900);
  });

  it('the word is repair, or repair and talk; the repair is named first and replacing never ordered', () => {
    fc.assert(
      fc.property(anyMachine, anyRepair, anyPrices, (machine, repair, prices) => {
        const { word, sentence } = repairOrReplace(machine, repair, prices);
        expect(['repair', talk]).toContain(word);
        expect(sentence).toMatch(/^Repair: /);
        expect(sentence).not.toMatch(/\b(must|should|have to|recommend|advise you)\b/i);
      }),
    );
  });

  it('nothing is said of replacing after a reset, a cleaning, a search or advice', () => {
    const noRepair = fc.constantFrom('reset', 'clean', 'adjust', 'diagnose', 'advise');
    fc.assert(
      fc.property(
        anyMachine,
        anyRepair,
        anyPrices,
        fc.array(noRepair, { minLength: 1, maxLength: 3 }),
        (machine, { repairCents }, prices, classes) => {
          const work = classes.map((remedyClass) => ({ remedyClass, parts: [ofUnit] }));
          expect(wordOf(machine, { repairCents, work }, prices)).toBe('repair');
        },
      ),
    );
  });

  it('a reset beside a repair takes nothing away from what the repair is', () => {
    const repair = repairFor(5_000);
    const reset = { remedyClass: 'reset' as const, parts: [] };
    const both = { ...repair, work: [reset, ...repair.work] };
    expect([wordOf(machineOf(12), repair, []), wordOf(machineOf(12), both, [])]).toEqual([
      talk,
      talk,
    ]);
  });

  it('nothing is said of replacing on age alone, however old it is', () => {
    fc.assert(
      fc.property(anyMachine, anyRepair, anyPrices, (machine, repair, prices) => {
        const { word, rulesOfThumb } = repairOrReplace(machine, repair, prices);
        const holding = rulesOfThumb.filter(({ outcome }) => outcome === 'holds');
        if (holding.every(({ code }) => code === 'age_alone')) expect(word).toBe('repair');
      }),
    );
    expect(wordOf(machineOf(60), repairFor(80), [])).toBe('repair');
  });

  it('nothing is said of replacing while a warranty covers a part of the work', () => {
    fc.assert(
      fc.property(anyMachine, anyRepair, anyPrices, (machine, repair, prices) => {
        const covered = { ...machine, partsWarrantyUntil: '2030-01-01' };
        const work = [...repair.work, { remedyClass: 'replace' as const, parts: [ofUnit] }];
        expect(wordOf(covered, { ...repair, work }, prices)).toBe('repair');
      }),
    );
  });

  it('a cheaper repair never turns repair into talk', () => {
    fc.assert(
      fc.property(anyMachine, anyRepair, anyPrices, fc.nat(), (machine, repair, prices, off) => {
        if (wordOf(machine, repair, prices) === talk) return;
        const cheaper = { ...repair, repairCents: Math.max(0, repair.repairCents - off) };
        expect(wordOf(machine, cheaper, prices)).toBe('repair');
      }),
    );
  });

  it('a younger machine never turns repair into talk', () => {
    fc.assert(
      fc.property(
        anyMachine,
        anyRepair,
        anyPrices,
        fc.integer({ min: 0, max: 40 }),
        (machine, repair, prices, years) => {
          const { installedOn } = machine;
          if (installedOn === undefined || wordOf(machine, repair, prices) === talk) return;
          const year = Math.min(2026, Number(installedOn.slice(0, 4)) + years);
          const younger = { ...machine, installedOn: `${year}${installedOn.slice(4)}` };
          expect(wordOf(younger, repair, prices)).toBe('repair');
        },
      ),
    );
  });

  it('a fact that is not known never turns repair into talk: age, size, price, refrigerant', () => {
    fc.assert(
      fc.property(
        anyMachine,
        anyRepair,
        anyPrices,
        fc.constantFrom('installedOn', 'tons', 'refrigerant', 'price' as const),
        (machine, repair, prices, forgotten) => {
          if (wordOf(machine, repair, prices) === talk) return;
          const less = { ...machine };
          if (forgotten !== 'price') delete less[forgotten];
          expect(wordOf(less, repair, forgotten === 'price' ? [] : prices)).toBe('repair');
        },
      ),
    );
  });

  it('nor does a warranty that is not recorded, on a machine as young as warranties last', () => {
    fc.assert(
      fc.property(
        fc.option(fc.integer({ min: 0, max: 10 }), { nil: undefined }),
        anyRepair,
        anyPrices,
        (age, repair, prices) => {
          const covered = machineOf(age, {
            partsWarrantyUntil: '2030-01-01',
            compressorWarrantyUntil: '2030-01-01',
          });
          if (wordOf(covered, repair, prices) === talk) return;
          expect(wordOf(machineOf(age), repair, prices)).toBe('repair');
        },
      ),
    );
  });
});
