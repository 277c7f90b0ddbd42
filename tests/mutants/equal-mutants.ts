/** A change after which nothing can differ, so that no test can notice it. */
export type EqualMutant = {
  /** Below src/. */
  file: string;
  /** The line it begins on, without what indents it. */
  line: string;
  text: string;
  becomes: string;
  why: string;
};

const anythingInIt = '["Stryker was here"]';

export const equalMutants: readonly EqualMutant[] = [
  {
    file: 'pricing/adjust-charges.ts',
    line: 'if (adjustments.length === 0) return { charges, refusals: [] };',
    text: 'adjustments.length === 0',
    becomes: 'false',
    why: 'A short way: nothing is refused and every charge comes back as it was.',
  },
  {
    file: 'pricing/adjust-charges.ts',
    line: 'const refusal = here.length === 0 ? undefined : refusalOfBand(charge, here, ratio);',
    text: 'here.length === 0',
    becomes: 'false',
    why: 'A short way: with nothing aimed at it a charge is what was computed, and in its band.',
  },
  {
    file: 'pricing/adjust-charges.ts',
    line: 'return here.length === 0 ? charge : { ...charge, adjustments: adjustmentLines(charge, here) };',
    text: 'here.length === 0',
    becomes: 'false',
    why: 'A short way: no lines are added to a charge that has none yet.',
  },
  {
    file: 'pricing/adjust-charges.ts',
    line: "const blame = (byOthers[0] ?? aimed[0])?.pointer ?? '';",
    text: '(byOthers[0] ?? aimed[0])?.pointer',
    becomes: '(byOthers[0] ?? aimed[0]).pointer',
    why: 'Only a charge with something aimed at it comes here, which types cannot tell.',
  },
  {
    file: 'pricing/adjust-charges.ts',
    line: 'const floor = compare(charge.floor, price) < 0 ? charge.floor : price;',
    text: 'compare(charge.floor, price) < 0',
    becomes: 'compare(charge.floor, price) <= 0',
    why: 'Where both are equal it is the same floor, whichever is taken.',
  },
  {
    file: 'pricing/charge-work.ts',
    line: "earlierAccess: EarlierWork['access'] = [],",
    text: '[]',
    becomes: anythingInIt,
    why: 'A text has neither a system nor a way, so that no access is found to be paid; types refuse it.',
  },
  {
    file: 'pricing/compare-text.ts',
    line: 'return a < b ? -1 : 1;',
    text: 'a < b',
    becomes: 'a <= b',
    why: 'Equal ones have left the function a line above.',
  },
  {
    file: 'pricing/credit-visit-fee.ts',
    line: 'const fee = charges.find(({ line }) => line.key === visitFeeKey);',
    text: 'line.key === visitFeeKey',
    becomes: 'true',
    why: 'The fee is the first charge of every option.',
  },
  {
    file: 'pricing/credit-visit-fee.ts',
    line: 'if (fee === undefined) return charges;',
    text: 'fee === undefined',
    becomes: 'false',
    why: 'Every option has a fee, at zero where none is charged, which types cannot tell.',
  },
  {
    file: 'pricing/credit-visit-fee.ts',
    line: 'if (wishedCents === 0) return charges;',
    text: 'wishedCents === 0',
    becomes: 'false',
    why: 'A short way: the largest credit up to nothing is nothing, which makes no line either.',
  },
  {
    file: 'pricing/credit-visit-fee.ts',
    line: "const emptyWhy: Why = { sentence: '', steps: [], owner: [] };",
    text: '[]',
    becomes: anythingInIt,
    why: 'It stands on credits that are only tried; their totals alone are looked at.',
  },
  {
    file: 'pricing/ratio.ts',
    line: 'if (point < 0) return { numerator: BigInt(decimal), denominator: 1n };',
    text: 'point < 0',
    becomes: 'point <= 0',
    why: 'No decimal text of this room begins with its point.',
  },
  {
    file: 'pricing/ratio.ts',
    line: 'return left < right ? -1 : 1;',
    text: 'left < right',
    becomes: 'left <= right',
    why: 'Equal ones have left the function a line above.',
  },
  {
    file: 'pricing/round-half-up-to-cents.ts',
    line: 'const rounded = raised < 0n && quotient * twice !== raised ? quotient - 1n : quotient;',
    text: 'raised < 0n',
    becomes: 'raised <= 0n',
    why: 'Nothing divides without a rest, so that the second half of the condition does not hold.',
  },
];
