import { describe, expect, it } from 'vitest';
import { alikeInputs } from '../../../src/auditing/jobs/alike-inputs.ts';
import { keptAnswers } from '../../../src/auditing/jobs/kept-answers.ts';
import { pricesOf } from '../../../src/auditing/jobs/prices-of.ts';
import { type PricingInputs, priceQuote } from '../../../src/pricing/index.ts';
import type { HandWork } from '../../pricing/oracle/hand-inputs.ts';
import { capacitor, contactor, documentOf, inputsOf, jobOf } from '../job-of.ts';

/*
 * The engine itself is what a price is held against: whatever was priced before, each charge comes to
 * what the engine says of these very inputs, under the key that it has there.
 */
const a = '018eaa60-0d99-7006-8dad-000000000001';
const b = '018eaa60-0d99-7006-8dad-000000000002';
const c = 'f18eaa60-0d99-7006-8dad-000000000003';
const system = '218eaa60-0d99-7006-8dad-000000000004';

/** Two tasks of one kind: in which order they stand, their identifiers say. */
function twoAlike(first: string, second: string, changes: Partial<HandWork> = {}): HandWork[] {
  const one = { systemId: system, ...changes };
  return [capacitor({ findingId: first, ...one }), capacitor({ findingId: second, ...one })];
}

const works: readonly (readonly [string, readonly HandWork[]])[] = [
  ['two of a kind', twoAlike(a, b)],
  ['the same, found in the other order', twoAlike(b, a)],
  ['the same of another visit', twoAlike(a, c)],
  ['the same, and the first found last', twoAlike(c, b)],
  ['of another system', twoAlike(a, b, { systemId: c })],
  ['of a system that sorts before its findings', twoAlike(b, c, { systemId: a })],
  ['a finding and a system of one name', twoAlike(a, b, { systemId: a })],
  ['names that are no UUID', twoAlike('finding-1', 'finding-2', { systemId: 'system-1' })],
  ['names of both kinds', twoAlike(a, 'finding-2')],
  ['names of both kinds in the other order', twoAlike(c, '0-finding')],
  [
    'another task beside it',
    [
      capacitor({ findingId: a, systemId: system }),
      contactor({ findingId: b, systemId: system, alsoFindingIds: [c] }),
    ],
  ],
];

describe('what inputs come to that are alike', () => {
  it.each(works)('is each charge’s own: %s', (_, work) => {
    // All the others were priced before, twice.
    for (const [, other] of [...works, ...works]) priced([...other]);
    expect(priced([...work])).toEqual(byTheEngine(inputsOf([...work])));
  });

  it('is told apart where an adjustment is aimed at the other one', () => {
    const aimedAt = (id: string) =>
      inputsOf(twoAlike(a, b), {
        adjustments: [adjustment(`labor:${id}:replace_dual_run_capacitor`)],
      });
    expect(alikeInputs(aimedAt(a)).text).not.toBe(alikeInputs(aimedAt(b)).text);
  });

  it('shares one text among jobs that differ in nothing but whose they are', () => {
    const textOf = (work: HandWork[]) => alikeInputs(inputsOf(work)).text;
    expect(textOf(twoAlike(a, c))).toBe(textOf(twoAlike(b, c)));
    expect(textOf(twoAlike(a, c))).not.toBe(textOf(twoAlike(c, a)));
    expect(textOf(twoAlike(a, c))).not.toBe(textOf(twoAlike(a, c, { minutes: 46 })));
  });
});

describe('answers that are kept', () => {
  it('are worked out once while they are asked for, and no more of them are kept than said', () => {
    const kept = keptAnswers<{ readonly answer: string }>(2);
    const worked: string[] = [];
    const ask = (question: string) =>
      kept(question, () => {
        worked.push(question);
        return { answer: question };
      });
    for (const question of ['one', 'two', 'one', 'three', 'one', 'four', 'five', 'one', 'two']) {
      expect(ask(question)).toEqual({ answer: question });
    }
    expect(worked).toEqual(['one', 'two', 'three', 'four', 'five', 'two']);
  });
});

function priced(work: readonly HandWork[]) {
  const document = documentOf(jobOf({ work }));
  const { computedCents, accessMinutes, feeCreditCents } = found(pricesOf().stored(document));
  return { computedCents, accessMinutes, feeCreditCents };
}

/** Read off the engine's own lines: each charge less the discounts aimed at it. */
function byTheEngine(inputs: PricingInputs) {
  const result = priceQuote(inputs);
  if (result.outcome === 'refused') throw new Error('this work has a price');
  const lines = found(result.quote.options[0]).lines;
  const charges = lines.filter(({ kind }) =>
    ['visit_fee', 'part', 'good', 'labor', 'access'].includes(kind),
  );
  const off = (key: string) =>
    lines
      .flatMap((line) => (line.kind === 'discount' && line.aimedAt === key ? [line] : []))
      .reduce((sum, { amountCents }) => sum + amountCents, 0);
  const credits = lines.filter(({ kind }) => kind === 'credit');
  return {
    computedCents: new Map(charges.map(({ key, amountCents }) => [key, amountCents + off(key)])),
    accessMinutes: new Map(
      lines.flatMap((line) => (line.kind === 'access' ? [[line.key, line.minutes] as const] : [])),
    ),
    feeCreditCents: -credits.reduce((sum, { amountCents }) => sum + amountCents, 0),
  };
}

function adjustment(aimedAt: string) {
  return { aimedAt, amountCents: -500, reason: 'Agreed on site', byOwner: true };
}

function found<Thing>(thing: Thing | undefined): Thing {
  if (thing === undefined) throw new Error('nothing was found');
  return thing;
}
