import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  acceptedDocument,
  type BilledDocument,
  type BilledLine,
  creditOn,
  feeDocument,
  invoiceTotal,
  undoneDocument,
} from '../../src/billing/index.ts';
import {
  cents,
  currentPricingRuleset,
  earlierWorkOf,
  type Line,
  type PricedOption,
  type PricedQuote,
  type PricingInputs,
  priceQuote,
  pricingInputsSchema,
  type WorkItem,
} from '../../src/pricing/index.ts';
import { arbitraryInputs, arbitraryWork } from '../pricing/arbitrary-inputs.ts';
import type { HandInputs, HandWork } from '../pricing/oracle/hand-inputs.ts';
import { priceByHand } from '../pricing/oracle/price-by-hand.ts';
import { netsOf, type TaxedAs, taxOfTheRest } from './tax-of-the-rest.ts';

/*
 * What holds for every invoice, however random the price book, the work and the tax rule. The tax
 * is reckoned a second time in tax-of-the-rest.ts, from the words of the rule alone.
 *
 * Random books and random work are dear to make and cheap to combine. So a visit is random as a
 * whole: its book, up to three options to accept, and six further pieces of work; fifty different
 * pairs of an accepted option and a change order are priced from each. The numbers of visits and
 * pairs stand in the tests' names.
 */

const VISITS = 2_000;
const PAIRS = 50;
const runs = { numRuns: 1_000 };

interface Visit {
  readonly inputs: HandInputs;
  readonly later: readonly HandWork[];
}

const laterWork = fc.uniqueArray(
  arbitraryWork(fc.integer({ min: 21, max: 40 }).map((n) => `finding-${n}`)),
  { selector: ({ findingId }) => findingId, minLength: 6, maxLength: 6 },
);
const arbitraryVisit: fc.Arbitrary<Visit> = fc.record({
  inputs: arbitraryInputs({ mistakes: false, adjustments: true }).map(
    ({ earlierWork: _, ...inputs }): HandInputs => inputs,
  ),
  later: laterWork,
});

describe('an invoice is what was accepted', () => {
  it('100,000 pairs of an accepted option and a change order, fifty of each of 2,000 random visits: every line and every tax unchanged, the total their sum', () => {
    let pairs = 0;
    fc.assert(
      fc.property(arbitraryVisit, (visit) => {
        for (const { root, change } of pairsOf(visit)) {
          expectAsAccepted(root, change);
          pairs += 1;
        }
      }),
      { numRuns: VISITS },
    );
    expect(pairs).toBe(VISITS * PAIRS);
  }, 120_000);
});

describe('the fee of a trip without a yes', () => {
  it('is what the quote said a no would come to, and nothing where there is no fee', () => {
    fc.assert(
      fc.property(arbitraryVisit, ({ inputs }) => {
        const parsed = withoutRefused(pricingInputsSchema.parse(inputs));
        const { decline } = priced(parsed);
        const document = feeDocument(parsed, currentPricingRuleset.version);
        if (!inputs.visitFee.chargeable) {
          expect(document).toBeUndefined();
          return;
        }
        expect(document).toMatchObject({
          kind: 'visit_fee',
          taxCents: decline.taxCents,
          totalCents: decline.totalCents,
        });
      }),
      runs,
    );
  });
});

describe('a credit memo', () => {
  it('gives back of a line at most what is left of it, to the cent', () => {
    fc.assert(
      fc.property(arbitraryBilled, ({ billed, first }) => {
        for (const [key, left] of leftAfter(billed, first)) {
          const now = (amountCents: number) => [{ key, amountCents: cents(amountCents) }];
          expect(creditOn(billed.document, first, now(left + 1)).outcome).toBe('refused');
          if (left > 0) {
            expect(creditOn(billed.document, first, now(left)).outcome).toBe('credited');
            expect(creditOn(billed.document, first, [...now(left), ...now(1)]).outcome).toBe(
              'refused',
            );
          }
          expect(creditOn(billed.document, first, now(0)).outcome).toBe('refused');
          expect(creditOn(billed.document, first, now(-1)).outcome).toBe('refused');
        }
      }),
      runs,
    );
  });

  it('is for a charge, never for a discount, a credit, the tax or a line of another paper', () => {
    fc.assert(
      fc.property(arbitraryBilled, ({ billed }) => {
        const reductions = billed.document.lines.filter(({ aimedAt }) => aimedAt !== null);
        for (const key of [...reductions.map((line) => line.key), 'tax', 'labor:other:task_a']) {
          const credit = { key, amountCents: cents(1) };
          expect(creditOn(billed.document, [], [credit]).outcome).toBe('refused');
        }
      }),
      runs,
    );
  });

  it('of everything gives back exactly the total and the tax', () => {
    fc.assert(
      fc.property(arbitraryBilled, ({ billed }) => {
        const everything = creditsOf(leftAfter(billed, []));
        if (everything.length === 0) return;
        expect(credited(billed, [], everything)).toEqual({
          taxCents: billed.taxCents,
          totalCents: billed.totalCents,
        });
      }),
      runs,
    );
  });

  it('in two steps comes to what one step comes to, the tax included', () => {
    fc.assert(
      fc.property(arbitraryBilled, ({ billed, first, second }) => {
        if (first.length === 0 || second.length === 0) return;
        const one = credited(billed, [], added(first, second));
        const steps = [credited(billed, [], first), credited(billed, first, second)];
        expect(sumOf(steps.map(({ taxCents }) => taxCents))).toBe(one.taxCents);
        expect(sumOf(steps.map(({ totalCents }) => totalCents))).toBe(one.totalCents);
      }),
      runs,
    );
  });

  it('has the old tax less the tax of what is left, reckoned a second time by the words', () => {
    let taxed = 0;
    fc.assert(
      fc.property(arbitraryBilled, ({ billed, first, second }) => {
        if (second.length === 0) return;
        const before = taxOfTheRest(netsOf(billed.document.lines, given(first)), billed.as);
        const both = given(added(first, second));
        const after = taxOfTheRest(netsOf(billed.document.lines, both), billed.as);
        const { taxCents, totalCents } = credited(billed, first, second);
        expect(taxCents).toBe(before - after);
        expect(totalCents).toBe(
          sumOf(second.map(({ amountCents }) => amountCents)) + before - after,
        );
        if (taxCents > 0) taxed += 1;
      }),
      runs,
    );
    // Random tax rules often tax nothing of what is credited; this must not be said of them all.
    expect(taxed).toBeGreaterThan(100);
  });
});

describe('accepted work that was not done', () => {
  it('comes off whole, with what was aimed at it, and its tax by the rule for credits', () => {
    let some = 0;
    let limited = 0;
    fc.assert(
      fc.property(arbitraryUndone, ({ billed, accepted, undone }) => {
        const answer = undoneDocument(accepted, { undoneFindingIds: undone, used: [] });
        const gone = goneWith(billed, accepted, undone);
        if (sumOf([...gone.values()]) === 0) {
          expect(answer.outcome).not.toBe('some');
          return;
        }
        if (answer.outcome === 'everything') {
          expectNothingLeftToDo(billed, undone);
          return;
        }
        if (answer.outcome !== 'some') throw new Error(answer.outcome);
        const { document } = answer;
        const putBack = document.lines.find(({ key }) => key === 'undone:credit:visit_fee');
        gone.set('visit_fee', -(putBack?.amountCents ?? 0));
        const rest = netsOf(billed.document.lines, gone);
        const taxCents = taxOfTheRest(rest, billed.as);
        expect(document.kind).toBe('work_not_done');
        expect(document.taxCents).toBe(taxCents - billed.taxCents);
        expect(billed.totalCents + document.totalCents).toBe(sumOf([...rest.values()]) + taxCents);
        expect(document.totalCents).toBeLessThanOrEqual(0);
        if (putBack !== undefined) limited += 1;
        some += 1;
      }),
      runs,
    );
    expect(some).toBeGreaterThan(100);
    expect(limited).toBeGreaterThan(10);
  });

  it('leaves as much of the credit of the fee as the labor and access left allow, and no bill below a no', () => {
    fc.assert(
      fc.property(arbitraryUndone, ({ billed, accepted, undone }) => {
        const answer = undoneDocument(accepted, { undoneFindingIds: undone, used: [] });
        const { lines } = billed.document;
        const credit = -(lines.find(({ key }) => key === 'credit:visit_fee')?.amountCents ?? 0);
        if (answer.outcome !== 'some' || credit === 0) return;
        const putBack = -sumOf(
          answer.document.lines
            .filter(({ key }) => key === 'undone:credit:visit_fee')
            .map(({ amountCents }) => -amountCents),
        );
        const gone = goneWith(billed, accepted, undone);
        const timeLeft = sumOf(
          [...netsOf(lines, gone)]
            .filter(([key]) => key.startsWith('labor:') || key.startsWith('access:'))
            .map(([, net]) => net),
        );
        const totalWith = (credited: number) => {
          const rest = netsOf(lines, new Map([...gone, ['visit_fee', credited - credit]]));
          return sumOf([...rest.values()]) + taxOfTheRest(rest, billed.as);
        };
        const declined = priced(accepted.inputs).decline.totalCents;
        const left = credit - putBack;
        expect(left).toBeGreaterThanOrEqual(0);
        expect(left).toBeLessThanOrEqual(credit);
        expect(totalWith(left)).toBeLessThanOrEqual(billed.totalCents);
        if (left > timeLeft) {
          // Only so much more than the time left that the bill is not above what was accepted.
          expect(totalWith(left - 1)).toBeGreaterThan(billed.totalCents);
          return;
        }
        // The owner may have taken something off the fee itself; then there is no credit to limit.
        if (left > 0) expect(totalWith(left)).toBeGreaterThanOrEqual(declined);
        // A cent more would be above one of the three limits.
        const isMost = left === Math.min(credit, timeLeft) || totalWith(left + 1) < declined;
        expect(isMost).toBe(true);
      }),
      runs,
    );
  });

  it('and goods used less of than sold are billed at the price of what was used', () => {
    let cut = 0;
    fc.assert(
      fc.property(arbitraryShortage, ({ billed, accepted, short, inputs }) => {
        const used = [{ key: short.key, quantity: short.used }];
        const answer = undoneDocument(accepted, { undoneFindingIds: [], used });
        const off = answer.outcome === 'some' ? linesUnder(answer.document, short.key) : 0;
        const left = netsOf(billed.document.lines).get(short.key) ?? 0;
        const [asSold, asUsed] = [inputs.sold, inputs.used].map((each) =>
          grossByHand(each, accepted.optionAt, short.key),
        );
        expect(off + Math.min(left, (asSold ?? 0) - (asUsed ?? 0))).toBe(0);
        if (off < 0) cut += 1;
      }),
      runs,
    );
    expect(cut).toBeGreaterThan(100);
  });

  it('is everything when no finding that was sold is done: only the trip is billed', () => {
    fc.assert(
      fc.property(arbitraryUndone, ({ billed, accepted }) => {
        const sold = soldFindings(billed.document.lines);
        if (sold.length === 0) return;
        expect(undoneDocument(accepted, { undoneFindingIds: sold, used: [] }).outcome).toBe(
          'everything',
        );
      }),
      runs,
    );
  });

  it('is nothing when everything was done', () => {
    fc.assert(
      fc.property(arbitraryUndone, ({ accepted }) => {
        expect(undoneDocument(accepted, { undoneFindingIds: [], used: [] }).outcome).toBe(
          'nothing',
        );
      }),
      runs,
    );
  });
});

/** Compared without a matcher for each amount: a hundred thousand deep comparisons take minutes. */
function expectAsAccepted(root: PricedOption, change: PricedOption): void {
  const documents = [root, change].map((option) => acceptedDocument(billedLines(option.lines)));
  const wrong = [root, change].filter((option, at) => {
    const document = documents[at];
    return document === undefined || !isAsAccepted(document, option);
  });
  expect(wrong).toEqual([]);
  const { taxCents, totalCents } = invoiceTotal(documents);
  expect(taxCents).toBe(root.taxCents + change.taxCents);
  expect(totalCents).toBe(root.totalCents + change.totalCents);
}

function isAsAccepted(document: BilledDocument, option: PricedOption): boolean {
  const { kind, lines, taxCents, totalCents } = document;
  return (
    kind === 'accepted' &&
    taxCents === option.taxCents &&
    totalCents === option.totalCents &&
    lines.length === option.lines.length &&
    option.lines.every(({ key, amountCents }, at) => {
      const billed = lines[at];
      return billed?.key === key && billed.amountCents === amountCents;
    })
  );
}

function pairsOf({ inputs, later }: Visit): { root: PricedOption; change: PricedOption }[] {
  const parsed = withoutRefused(pricingInputsSchema.parse(inputs));
  const { options } = priced(parsed);
  const work = parsedWork(inputs, later);
  return Array.from({ length: PAIRS }, (_, at) => {
    const root = options[at % options.length];
    if (root === undefined) throw new Error('a quote has an option');
    // Six pieces of work have 63 choices that are not empty; each is taken once per option.
    const choice = (Math.floor(at / options.length) % 63) + 1;
    const chosen = work.filter((_, bit) => ((choice >> bit) & 1) === 1);
    return { root, change: changeOrder(parsed, root, chosen) };
  });
}

function changeOrder(inputs: PricingInputs, root: PricedOption, work: WorkItem[]): PricedOption {
  const [option] = priced({
    ...inputs,
    visitFee: { chargeable: false, reason: 'charged with the quote' },
    earlierWork: earlierWorkOf([root.lines]),
    options: [{ title: 'Change order', work, adjustments: [] }],
  }).options;
  if (option === undefined) throw new Error('a change order has an option');
  return option;
}

function parsedWork(inputs: HandInputs, work: readonly HandWork[]): WorkItem[] {
  const options = [{ title: 'Later', work, adjustments: [] }];
  return pricingInputsSchema.parse({ ...inputs, options }).options.flatMap((option) => option.work);
}

/** Adjustments outside the fair band are refused; the same quote without any never is. */
function withoutRefused(inputs: PricingInputs): PricingInputs {
  if (priceQuote(inputs).outcome === 'priced') return inputs;
  const options = inputs.options.map((option) => ({ ...option, adjustments: [] }));
  return { ...inputs, options };
}

function priced(inputs: PricingInputs): PricedQuote {
  const result = priceQuote(inputs);
  if (result.outcome === 'refused') throw new Error(JSON.stringify(result.refusals));
  return result.quote;
}

function billedLines(lines: readonly Line[], work: readonly WorkItem[] = []): BilledLine[] {
  return lines.map((line) => ({
    key: line.key,
    kind: line.kind,
    priceClass: line.class,
    description: line.description,
    aimedAt: 'aimedAt' in line ? line.aimedAt : null,
    findingIds: findingsOf(line, work),
    amountCents: line.amountCents,
  }));
}

function findingsOf(line: Line, work: readonly WorkItem[]): string[] {
  const named =
    'findingIds' in line ? line.findingIds : 'findingId' in line ? [line.findingId] : [];
  return named.flatMap((id) => [
    id,
    ...(work.find(({ findingId }) => findingId === id)?.alsoFindingIds ?? []),
  ]);
}

/** A billed document with what the second reckoning of its tax has to know. */
interface Billed {
  readonly document: Parameters<typeof creditOn>[0];
  readonly as: TaxedAs;
  readonly taxCents: number;
  readonly totalCents: number;
}

interface Credit {
  readonly key: string;
  readonly amountCents: ReturnType<typeof cents>;
}

/** How much of a line is credited, in thousandths of what is left of it; often none or all. */
const thousandths = fc.array(
  fc.oneof(fc.constantFrom(0, 0, 1_000), fc.integer({ min: 0, max: 1_000 })),
  { minLength: 40, maxLength: 40 },
);

/** An accepted option, what an earlier memo credited of it, and what this one is to credit. */
const arbitraryBilled = fc
  .tuple(arbitraryVisit, fc.nat(2), thousandths, thousandths)
  .map(([visit, at, firstShares, secondShares]) => {
    const { billed } = acceptedOf(visit, at);
    const first = partOf(leftAfter(billed, []), firstShares);
    const second = partOf(leftAfter(billed, first), secondShares);
    return { billed, first, second };
  });

/** An accepted option and some of its findings, whose work was not done. */
const arbitraryUndone = fc
  .tuple(arbitraryVisit, fc.nat(2), fc.array(fc.boolean(), { minLength: 20, maxLength: 20 }))
  .map(([visit, at, flags]) => {
    const { billed, accepted } = acceptedOf(visit, at);
    const undone = soldFindings(billed.document.lines).filter((_, index) => flags[index]);
    return { billed, accepted, undone };
  });

/** An accepted option and one of its parts or goods, of which less was used than sold. */
const arbitraryShortage = fc
  .tuple(arbitraryVisit, fc.nat(2), fc.nat(), fc.integer({ min: 1, max: 999 }))
  .map(([visit, at, which, thousandths]) => {
    const { billed, accepted } = acceptedOf(visit, at);
    const sold = withoutAdjustments(accepted.inputs);
    const goods = goodsOf(sold, accepted.optionAt);
    const one = goods[which % Math.max(goods.length, 1)];
    if (one === undefined) return undefined;
    const part = (Number(one.of.quantity) * thousandths) / 1_000;
    const used = one.isMeasured ? part.toFixed(3).replace(/\.?0+$/, '') : String(Math.floor(part));
    if (Number(used) === 0) return undefined;
    const short = { key: one.key, used };
    return {
      billed,
      accepted,
      short,
      inputs: { sold, used: withQuantity(sold, accepted.optionAt, short) },
    };
  })
  .filter((each) => each !== undefined);

/** By the other engine, which is written from the words alone. */
function grossByHand(inputs: HandInputs, optionAt: number, key: string): number {
  const answer = priceByHand(inputs);
  if ('refusals' in answer) throw new Error(answer.refusals.join());
  const amounts = answer.options[optionAt]?.amounts ?? {};
  const discounts = Object.entries(amounts).filter(([each]) => each.startsWith(`discount:${key}:`));
  return (amounts[key] ?? 0) + sumOf(discounts.map(([, amount]) => amount));
}

function linesUnder({ lines }: BilledDocument, key: string): number {
  return sumOf(
    lines.filter((each) => each.key === `undone:${key}`).map(({ amountCents }) => amountCents),
  );
}

function withoutAdjustments(inputs: PricingInputs): HandInputs {
  const options = inputs.options.map((option) => ({ ...option, adjustments: [] }));
  return structuredClone({ ...inputs, options }) as HandInputs;
}

function goodsOf({ options }: HandInputs, optionAt: number) {
  return (options[optionAt]?.work ?? []).flatMap((item) => {
    const key = (kind: string, code: string) =>
      `${kind}:${item.findingId}:${item.taskCode}:${code}`;
    return [
      ...item.parts.map((of) => ({ key: key('part', of.code), of, isMeasured: false })),
      ...(item.goods ?? []).map((of) => ({ key: key('good', of.code), of, isMeasured: true })),
    ];
  });
}

function withQuantity(
  inputs: HandInputs,
  optionAt: number,
  { key, used }: { key: string; used: string },
): HandInputs {
  const copy = structuredClone(inputs);
  const one = goodsOf(copy, optionAt).find((each) => each.key === key);
  if (one === undefined) throw new Error(`no goods ${key}`);
  Object.assign(one.of, { quantity: one.isMeasured ? used : Number(used) });
  return copy;
}

function acceptedOf({ inputs }: Visit, wished: number) {
  const parsed = pricingInputsSchema.parse(inputs);
  const usable = withoutRefused(parsed);
  const { options } = priced(usable);
  const optionAt = wished % options.length;
  const [option, of] = [options[optionAt], usable.options[optionAt]];
  if (option === undefined || of === undefined) throw new Error('a quote has an option');
  const lines = billedLines(option.lines, of.work);
  const { tax } = usable;
  const { stated, taxCents, totalCents } = option;
  const as: TaxedAs = { tax: inputs.tax, stated, work: inputs.options[optionAt]?.work ?? [] };
  const billed: Billed = {
    document: { lines, tax, stated, work: of.work },
    as,
    taxCents,
    totalCents,
  };
  const accepted = {
    inputs: usable,
    rulesetVersion: currentPricingRuleset.version,
    optionAt,
    lines,
  };
  return { billed, accepted };
}

function leftAfter(billed: Billed, credits: readonly Credit[]): Map<string, number> {
  return netsOf(billed.document.lines, given(credits));
}

function given(credits: readonly Credit[]): Map<string, number> {
  return new Map(credits.map(({ key, amountCents }) => [key, amountCents]));
}

function creditsOf(amounts: ReadonlyMap<string, number>): Credit[] {
  return [...amounts]
    .filter(([, amount]) => amount > 0)
    .map(([key, amount]) => ({ key, amountCents: cents(amount) }));
}

function partOf(left: ReadonlyMap<string, number>, shares: readonly number[]): Credit[] {
  const parts = [...left].map(
    ([key, amount], at) => [key, Math.floor((amount * (shares[at] ?? 0)) / 1_000)] as const,
  );
  return creditsOf(new Map(parts));
}

function added(first: readonly Credit[], second: readonly Credit[]): Credit[] {
  const sums = given(first);
  for (const { key, amountCents } of second) sums.set(key, (sums.get(key) ?? 0) + amountCents);
  return creditsOf(sums);
}

function credited(billed: Billed, before: readonly Credit[], now: readonly Credit[]) {
  const answer = creditOn(billed.document, before, now);
  if (answer.outcome === 'refused') throw new Error(JSON.stringify(answer.refusals));
  return { taxCents: answer.taxCents, totalCents: answer.totalCents };
}

/**
 * What comes off each charge: all that is left of it where its findings are all undone; where some
 * are, what it is dearer than the hand would price it for the rest. The fee stays.
 */
function goneWith(
  { document: { lines } }: Billed,
  { inputs, optionAt }: { inputs: PricingInputs; optionAt: number },
  undone: readonly string[],
): Map<string, number> {
  const nets = netsOf(lines);
  const handPriced = withoutUndone(withoutAdjustments(inputs), optionAt, undone);
  const gone = lines
    .filter(({ key, findingIds }) => nets.has(key) && findingIds.some((id) => undone.includes(id)))
    .map(({ key, findingIds }) => {
      const net = nets.get(key) ?? 0;
      if (findingIds.every((id) => undone.includes(id))) return [key, net] as const;
      const sold = sumOf(
        lines
          .filter((line) => line.key === key || (line.kind === 'discount' && line.aimedAt === key))
          .map(({ amountCents }) => amountCents),
      );
      const dearer = sold - grossByHand(handPriced, optionAt, key);
      return [key, Math.max(0, Math.min(net, dearer))] as const;
    });
  return new Map(gone);
}

function withoutUndone(
  inputs: HandInputs,
  optionAt: number,
  undone: readonly string[],
): HandInputs {
  const isUndone = ({ findingId, alsoFindingIds = [] }: HandWork) =>
    [findingId, ...alsoFindingIds].every((id) => undone.includes(id));
  const options = inputs.options.map((option, at) =>
    at === optionAt ? { ...option, work: option.work.filter((item) => !isUndone(item)) } : option,
  );
  return { ...inputs, options };
}

function soldFindings(lines: readonly BilledLine[]): string[] {
  const sold = lines.filter(({ kind }) => ['part', 'good', 'labor'].includes(kind));
  return [...new Set(sold.flatMap(({ findingIds }) => findingIds))];
}

function expectNothingLeftToDo({ document }: Billed, undone: readonly string[]): void {
  expect(soldFindings(document.lines).filter((id) => !undone.includes(id))).toEqual([]);
}

function sumOf(amounts: readonly number[]): number {
  return amounts.reduce((sum, amount) => sum + amount, 0);
}
