import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Line, PricedOption, PricedQuote, WhyNode } from '../../src/pricing/index.ts';
import { arbitraryInputs } from '../pricing/arbitrary-inputs.ts';
import type { HandInputs } from '../pricing/oracle/hand-inputs.ts';
import { totalCreditedByHand } from '../pricing/oracle/price-by-hand.ts';
import {
  decimal,
  divide,
  halfUp,
  less,
  minus,
  plus,
  type Rational,
  rational,
  smaller,
  times,
  whole,
} from '../pricing/oracle/rational.ts';
import { price } from '../pricing/price.ts';

/*
 * A pencil: it reads the steps of a price, knows for each name which sum it stands for, and works
 * every number out again from the numbers beneath it. It has the quote before it and nothing of
 * the engine.
 */

const whatever = arbitraryInputs({ mistakes: false, adjustments: true });

/** Where a credit would often make accepting cheaper than declining, and so is lowered. */
const whereOnlyTheFeeIsTaxed = whatever.map(
  (inputs): HandInputs => ({
    ...inputs,
    policy: { ...inputs.policy, visitFeeCreditShare: '1' },
    tax: { ...inputs.tax, rate: '0.08', mode: 'separated', taxableClasses: ['visit_fee'] },
  }),
);

describe('every number of a derivation can be worked out again', () => {
  it('from what stands beneath it, down to the inputs, and ends in the amount of its line', () => {
    const seen = new Set<string>();
    fc.assert(
      fc.property(fc.oneof(whatever, whereOnlyTheFeeIsTaxed), (inputs) => {
        const result = price(inputs);
        if (result.outcome === 'refused') return;
        const { quote } = result;
        const paper = { costPerHour: costPerHourOf(quote), seen };
        for (const node of quote.laborRateWhy.owner) workOut(node, paper);
        for (const charges of [quote.decline, ...quote.options]) {
          for (const line of charges.lines) checkLine(line, paper);
        }
        for (const [at, option] of quote.options.entries()) {
          const credit = option.lines.find(({ kind }) => kind === 'credit');
          if (credit !== undefined) checkCredit(credit, option, quote, inputs, at);
        }
      }),
      { numRuns: 1_000 },
    );
    // The pencil must have met every sum it knows, or a wrong one could hide.
    expect([...seen].sort()).toEqual(Object.keys(sums).sort());
  }, 120_000);
});

interface Paper {
  readonly costPerHour: Rational;
  readonly seen: Set<string>;
}

type Sum = (from: readonly Rational[], paper: Paper) => Rational;

const product: Sum = (from) => from.reduce(times, whole(1));
const total: Sum = (from) => from.reduce(plus, whole(0));
const difference: Sum = ([from = whole(0), less = whole(0)]) => minus(from, less);

const sums: Record<string, Sum> = {
  'burdened wage per year': total,
  'wages per year': product,
  'share of wages': product,
  'the lower of wages and their limit': ([a = whole(0), b = whole(0)]) => smaller(a, b),
  'cost per billable hour': ([wage, truck, overhead, technicians, hours, billable]) =>
    divide(
      plus(known(wage), plus(known(truck), divide(known(overhead), known(technicians)))),
      times(known(hours), known(billable)),
    ),
  'labor rate': ([cost, margin]) => divide(known(cost), minus(whole(1), known(margin))),
  'minutes / 60 x rate x factor': (from) => divide(from.reduce(times), whole(60)),
  'minutes not charged yet': difference,
  // How the cost of an hour came about stands once, with the labor rate.
  'cost per billable hour, as the labor rate tells': (_, { costPerHour }) => costPerHour,
  'minutes / 60 x cost per hour': ([minutes, perHour]) =>
    times(divide(known(minutes), whole(60)), known(perHour)),
  'quantity x unit price': product,
  'cost of the parts': product,
  'unit price': total,
  'extended price': total,
  'quantity / quantity of a pack x cost of a pack': ([quantity, pack, cost]) =>
    times(divide(known(quantity), known(pack)), known(cost)),
  'slice of the cost at its factor': product,
  'cost in this step': ([cost, above, upTo]) =>
    minus(upTo === undefined ? known(cost) : smaller(known(cost), upTo), known(above)),
  'cost at its factor': product,
  'top price of the steps below': product,
  'the higher of both': ([a, b]) => (less(known(a), known(b)) ? known(b) : known(a)),
  'share of the labor': product,
  'share of the labor charged before': product,
  'share of the charge': product,
  'charge less its other discounts': total,
  'share of the visit fee': product,
  'total when accepted with the smaller of both credited': total,
  'total when accepted with a cent more than given': total,
  'total when accepted with the credit given': total,
  'credit given': (from) => from.reduce(smaller),
  'stated separately above': product,
  tax: product,
};

/** A node’s value after it was worked out again; a rounded one goes on with its cents. */
function workOut(node: WhyNode, paper: Paper): Rational {
  if (node.node === 'input') return signed(node.value);
  const name = sumOf(node.name, node.from);
  paper.seen.add(name);
  const from = node.from.map((one) => workOut(one, paper));
  const sum = sums[name];
  if (sum === undefined) throw new Error(`the pencil knows no sum '${node.name}'`);
  const exact = sum(from, paper);
  expect([node.name, fraction(node.exact)]).toEqual([node.name, exact]);
  if (node.node === 'step') return exact;
  expect([node.name, BigInt(node.cents)]).toEqual([node.name, halfUp(exact)]);
  return whole(node.cents);
}

/** Some names say what they are about: 'tax on parts', 'labor rate at 15% margin on price'. */
function sumOf(name: string, from: readonly WhyNode[]): string {
  if (name.startsWith('tax on ')) return 'tax';
  if (name.startsWith('labor rate at ')) return 'labor rate';
  // What an employer pays on wages has the name that the owner gave it.
  return from[0]?.name === 'share of wages' ? 'share of wages' : name;
}

function checkLine(line: Line, paper: Paper): void {
  const steps = line.why.steps.map((node) => workOut(node, paper));
  for (const node of line.why.owner) workOut(node, paper);
  const amount = whole(line.amountCents);
  switch (line.kind) {
    case 'visit_fee':
    case 'adjustment':
      expect(steps.reduce(plus, whole(0))).toEqual(amount);
      return;
    case 'part':
    case 'labor':
    case 'access':
    case 'good':
      // A line that a rule made free shows its quantity or time, and no price.
      if (line.amountCents > 0) expect(steps.at(-1)).toEqual(amount);
      return;
    case 'discount':
      expect(steps).toEqual([minus(whole(0), amount)]);
      return;
    case 'credit':
      expect(steps.at(-1)).toEqual(minus(whole(0), amount));
      return;
    case 'tax':
      expect(line.why.steps.flatMap(taxOf).reduce(plus, whole(0))).toEqual(amount);
  }
}

/**
 * Of the share, the labor and access, and the largest with which accepting totals no less than
 * declining, the smallest is given. What accepting would total is computed a second way.
 */
function checkCredit(
  { why: { steps }, amountCents }: Line,
  option: PricedOption,
  { decline }: PricedQuote,
  inputs: HandInputs,
  at: number,
): void {
  const creditCents = -amountCents;
  const [declined, ...rest] = steps.map(centsOf);
  const given = known(steps.at(-1));
  const [share, time, ...largest] = given.node === 'input' ? [] : given.from.map(centsOf);
  const { labor, access } = option.classTotals;
  expect([time, declined]).toEqual([labor + access, decline.totalCents]);
  const totalWith = (cents: number) =>
    totalCreditedByHand(inputs, known(inputs.options[at]), cents);
  expect(totalWith(creditCents)).toBe(option.totalCents);
  expect(option.totalCents).toBeGreaterThanOrEqual(decline.totalCents);
  const wishedCents = Math.min(known(share), known(time));
  if (creditCents === wishedCents) {
    expect([rest, largest]).toEqual([[creditCents], []]);
    return;
  }
  const aCentMore = totalWith(creditCents + 1);
  expect(aCentMore).toBeLessThan(decline.totalCents);
  expect(rest).toEqual([totalWith(wishedCents), aCentMore, option.totalCents, creditCents]);
  const before = option.totalCents - option.taxCents + creditCents;
  expect(steps.slice(1, 4).map(leavesOf)).toEqual([
    [before, -wishedCents],
    [before, -creditCents - 1],
    [before, -creditCents],
  ]);
  expect(largest).toEqual([creditCents]);
}

/** The inputs right beneath a step, in cents. */
function leavesOf(node: WhyNode): number[] {
  const from = node.node === 'input' ? [] : node.from;
  return from.flatMap((one) => (one.node === 'input' ? [Number(one.value)] : []));
}

function centsOf(node: WhyNode): number {
  if (node.node === 'rounding') return node.cents;
  const { n, d } = node.node === 'input' ? signed(node.value) : fraction(node.exact);
  expect(d).toBe(1n);
  return Number(n);
}

function taxOf(node: WhyNode): Rational[] {
  return node.node === 'rounding' ? [whole(node.cents)] : [];
}

function costPerHourOf({ laborRateWhy }: PricedQuote): Rational {
  const [rate] = laborRateWhy.owner;
  const cost = rate?.node === 'rounding' ? rate.from[0] : undefined;
  if (cost?.node !== 'step') throw new Error('the labor rate does not show the cost of an hour');
  return fraction(cost.exact);
}

function fraction(text: string): Rational {
  const [numerator = '', denominator = ''] = text.split('/');
  return rational(BigInt(numerator), BigInt(denominator));
}

function signed(text: string): Rational {
  return text.startsWith('-') ? minus(whole(0), decimal(text.slice(1))) : decimal(text);
}

function known<T>(value: T | undefined): T {
  if (value === undefined) throw new Error('a number is missing beneath this step');
  return value;
}
