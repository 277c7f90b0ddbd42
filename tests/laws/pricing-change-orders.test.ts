import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { earlierWorkOf, type Line, type PricedOption, sumLines } from '../../src/pricing/index.ts';
import { arbitraryInputs, arbitraryWork } from '../pricing/arbitrary-inputs.ts';
import { capacitorWork, contactorWork, workedInvoice } from '../pricing/oracle/hand-worked.ts';
import type { HandInputs, HandWork } from '../pricing/oracle/price-by-hand.ts';
import { pricedOption } from '../pricing/price.ts';

/*
 * Two documents of one visit together charge what one would have. Compared before what an
 * agreement takes off and before tax, which are rounded on each line or document by themselves.
 *
 * Labor is equal to the cent: every task has one labor line wherever it stands, and every one but
 * the dearest of the visit has the same rounded share of the same amount off, if not on its own
 * line then on the line of the task that took its place.
 *
 * Access is not: 15 minutes on the quote and 5 on the change order are rounded apart, 20 minutes
 * on one paper once. Each rounding is off by at most half a cent, so that n documents and the one
 * paper differ by at most (n + 1) / 2 cents, and as whole cents by 1 for two and 2 for three.
 */

const runs = { numRuns: 2_000 };
const inputsOfVisit = arbitraryInputs({ mistakes: false, adjustments: false }).map(
  ({ earlierWork: _, ...inputs }): HandInputs => inputs,
);
const workOfVisit = fc.uniqueArray(
  arbitraryWork(fc.integer({ min: 1, max: 20 }).map((n) => `finding-${n}`)),
  { selector: ({ findingId }) => findingId, maxLength: 7 },
);

describe('a quote and its change orders charge what one quote for all the work would have', () => {
  it('one change order: labor exactly, access within a cent per group', () => {
    fc.assert(
      fc.property(inputsOfVisit, workOfVisit, fc.nat(7), (inputs, work, at) => {
        expectSame(inputs, [work.slice(0, at), work.slice(at)], 1);
      }),
      runs,
    );
  }, 60_000);

  it('two change orders: labor exactly, access within two cents per group', () => {
    fc.assert(
      fc.property(inputsOfVisit, workOfVisit, fc.nat(7), fc.nat(7), (inputs, work, one, other) => {
        const [from, to] = [Math.min(one, other), Math.max(one, other)];
        expectSame(inputs, [work.slice(0, from), work.slice(from, to), work.slice(to)], 2);
      }),
      runs,
    );
  }, 60_000);

  it('the cent is really there: 2 and 2 minutes at 151.00 an hour are 5.03 twice, 4 are 10.07', () => {
    const [first, second] = [capacitorWork(short(2)), contactorWork(short(4))];
    const apart = documents(workedInvoice({}), [[first], [second]]);
    const [one] = documents(workedInvoice({}), [[first, second]]);
    const access = apart.map((option) => option.classTotals.access);
    expect(access).toEqual([503, 503]);
    expect(one?.classTotals.access).toBe(1007);
  });
});

describe('a second change order', () => {
  it('sees the minutes of the first one on top of the quote’s', () => {
    const work = [15, 20, 25].map((accessMinutes, at) => [
      capacitorWork({ findingId: `finding-${at}`, parts: [], accessMinutes }),
    ]);
    const minutes = documents(workedInvoice({}), work).map(
      ({ lines }) => lines.find((line) => line.kind === 'access')?.minutes,
    );
    expect(minutes).toEqual([15, 5, 5]);
  });
});

describe('the order in which earlier work is given', () => {
  it('changes nothing, not even which task is named as the dearest before', () => {
    const labor = ['Replace relay', 'Replace fan motor', 'Check charge'].map((taskName, at) => ({
      taskName,
      amountCents: at === 2 ? 4000 : 7550,
    }));
    const access = [10, 15].map((minutes) => ({
      systemId: 'system-1',
      accessGroup: 'condenser_electrical',
      minutes,
    }));
    const work = [capacitorWork({ accessMinutes: 20 })];
    const base = { ...workedInvoice({}), options: [{ title: 'Repair', work, adjustments: [] }] };
    const forward = pricedOption({ ...base, earlierWork: { labor, access } });
    const backward = pricedOption({
      ...base,
      earlierWork: { labor: labor.toReversed(), access: access.toReversed() },
    });
    expect(backward).toEqual(forward);
    expect(forward.lines.find(({ kind }) => kind === 'discount')?.why.sentence).toContain(
      'Replace fan motor was the dearest task of this visit before',
    );
  });
});

function short(accessMinutes: number) {
  return { parts: [], minutes: 0, accessMinutes };
}

/** Prices each piece of work knowing what the documents before it have charged. */
function documents(inputs: HandInputs, pieces: HandWork[][]): PricedOption[] {
  const accepted: PricedOption[] = [];
  for (const work of pieces) {
    const earlierWork = earlierWorkOf(accepted.map(({ lines }) => lines));
    accepted.push(
      pricedOption({
        ...inputs,
        earlierWork,
        options: [{ title: 'Repair', work, adjustments: [] }],
      }),
    );
  }
  return accepted;
}

function expectSame(inputs: HandInputs, pieces: HandWork[][], centsOffPerGroup: number): void {
  const apart = documents(inputs, pieces).flatMap(({ lines }) => lines);
  const together = documents(inputs, [pieces.flat()]).flatMap(({ lines }) => lines);
  expect(laborCents(apart)).toBe(laborCents(together));
  expect(materialCents(apart)).toBe(materialCents(together));
  const groups = accessByGroup(together);
  const split = accessByGroup(apart);
  expect([...split.keys()].sort()).toEqual([...groups.keys()].sort());
  for (const [key, cents] of groups) {
    expect(Math.abs((split.get(key) ?? 0) - cents)).toBeLessThanOrEqual(centsOffPerGroup);
  }
}

function laborCents(lines: readonly Line[]): number {
  return sumLines(
    lines.filter((line) => line.class === 'labor' && line.code !== 'agreement_discount'),
  );
}

function materialCents(lines: readonly Line[]): number {
  return sumLines(lines.filter(({ kind }) => kind === 'part' || kind === 'good'));
}

function accessByGroup(lines: readonly Line[]): Map<string, number> {
  const groups = new Map<string, number>();
  for (const { kind, key, amountCents } of lines) {
    if (kind === 'access') groups.set(key, (groups.get(key) ?? 0) + amountCents);
  }
  return groups;
}
