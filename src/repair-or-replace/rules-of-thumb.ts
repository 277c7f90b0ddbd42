import { dollarsText } from '../pricing/index.ts';

/** A rule people in the trade go by, with what went into it. None of them has a source. */
export interface RuleOfThumb {
  code: 'age_times_repair' | 'half_of_replacement' | 'third_of_replacement' | 'age_alone';
  basis: 'common practice, no source';
  outcome: 'holds' | 'does_not_hold' | 'unknown';
  /** Whether it can bring up replacing; the others are told and never decide. */
  decides: boolean;
  ageYears: number | null;
  repairCents: number | null;
  replacementCents: number | null;
  /** Null where it is a share of a price nobody knows. */
  threshold: { value: number | null; unit: 'cents' | 'years' };
  sentence: string;
}

/** What the rules of thumb are applied to; undefined is unknown and holds nowhere. */
export interface ThumbInputs {
  ageYears: number | undefined;
  repairCents: number;
  replacementCents: number | undefined;
}

/**
 * The rules of thumb, each applied. A figure that is exactly at its threshold does not hold.
 * Worked, as published: 10 years and 350 dollars make 3,500, which does not hold; 12 years and 500
 * make 6,000, which does; 1,950 of 6,500 is 30 percent, neither half nor a third.
 */
export function rulesOfThumb(inputs: ThumbInputs): RuleOfThumb[] {
  return [
    ageTimesRepair(inputs),
    shareOfReplacement('half_of_replacement', 2, 'half', inputs),
    shareOfReplacement('third_of_replacement', 3, 'a third', inputs),
    ageAlone(inputs),
  ];
}

const basis = 'common practice, no source';
const ageTimesRepairCents = 500_000;
const agedYears = 15;

function ageTimesRepair({ ageYears, repairCents }: ThumbInputs): RuleOfThumb {
  const product = ageYears === undefined ? undefined : ageYears * repairCents;
  const outcome = outcomeOf(product, ageTimesRepairCents);
  const limit = dollarsText(ageTimesRepairCents);
  return {
    code: 'age_times_repair',
    basis,
    outcome,
    decides: true,
    ageYears: ageYears ?? null,
    repairCents,
    replacementCents: null,
    threshold: { value: ageTimesRepairCents, unit: 'cents' },
    sentence:
      ageYears === undefined || product === undefined
        ? 'Age times repair stays open: the day of installation is not recorded.'
        : `${yearsText(ageYears)} times ${dollarsText(repairCents)} is ${dollarsText(product)}, ${aboveText(outcome)} ${limit}.`,
  };
}

function shareOfReplacement(
  code: 'half_of_replacement' | 'third_of_replacement',
  divisor: number,
  words: string,
  { repairCents, replacementCents }: ThumbInputs,
): RuleOfThumb {
  const known = replacementCents !== undefined;
  // Multiplied, not divided, so that an exact half or third is met exactly.
  const outcome = known ? outcomeOf(repairCents * divisor, replacementCents) : 'unknown';
  return {
    code,
    basis,
    outcome,
    // Some say a third already; what only some say does not decide.
    decides: code === 'half_of_replacement',
    ageYears: null,
    repairCents,
    replacementCents: replacementCents ?? null,
    threshold: { value: known ? Math.floor(replacementCents / divisor) : null, unit: 'cents' },
    sentence: known
      ? `${dollarsText(repairCents)} is ${aboveText(outcome)} ${words} of what a new machine typically costs, ${dollarsText(replacementCents)}.`
      : `Whether it is above ${words} of a new machine stays open: the price book names no typical price.`,
  };
}

function ageAlone({ ageYears }: ThumbInputs): RuleOfThumb {
  const outcome = outcomeOf(ageYears, agedYears);
  return {
    code: 'age_alone',
    basis,
    outcome,
    decides: false,
    ageYears: ageYears ?? null,
    repairCents: null,
    replacementCents: null,
    threshold: { value: agedYears, unit: 'years' },
    sentence:
      ageYears === undefined
        ? 'Its age is not recorded.'
        : `It is ${yearsText(ageYears)} old, ${aboveText(outcome)} ${agedYears}. Age alone decides nothing.`,
  };
}

function outcomeOf(value: number | undefined, threshold: number): RuleOfThumb['outcome'] {
  if (value === undefined) return 'unknown';
  return value > threshold ? 'holds' : 'does_not_hold';
}

function aboveText(outcome: RuleOfThumb['outcome']): string {
  return outcome === 'holds' ? 'above' : 'not above';
}

function yearsText(years: number): string {
  return years === 1 ? '1 year' : `${years} years`;
}
