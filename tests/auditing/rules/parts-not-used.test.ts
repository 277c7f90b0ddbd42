import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { currentAuditRuleset, type JobFacts } from '../../../src/auditing/index.ts';
import { pricesOf } from '../../../src/auditing/jobs/prices-of.ts';
import { cents } from '../../../src/pricing/index.ts';
import {
  capacitor,
  documentOf,
  jobOf,
  keysOf,
  withDocument,
  without,
  withoutOfDocument,
} from '../job-of.ts';
import { billOf } from './bill-of.ts';
import { holdRuleTo } from './hold-rule-to.ts';

const recordedAt = '2026-05-04T17:00:00Z';

function using(job: JobFacts, ...uses: { partCode: string; quantity: string }[]): JobFacts {
  const all = uses.map((use) => ({
    ...use,
    quoteId: 'quote-1',
    findingId: 'finding-capacitor',
    recordedAt,
  }));
  return { ...job, work: { outcomes: job.work?.outcomes ?? [], uses: all } };
}

const code = 'capacitor_45_5';
const one = capacitor();
const key = keysOf(one).part;
/** Two at 18.40 x 3.0 = 55.20 each. */
const two = jobOf({
  work: [capacitor({ parts: one.parts.map((part) => ({ ...part, quantity: 2 })) })],
});

/** 3.5 lb of a pack of 25 lb at 313.37, at 3.0 x cost: 313.37 / 25 x 3.5 x 3 = 131.6154 -> 131.62. */
const refrigerant = {
  code: 'refrigerant_410a',
  name: 'Refrigerant R-410A',
  unit: '[lb_av]',
  quantity: '3.5',
  packCostCents: 31_337,
  packQuantity: '25',
} as const;
const adding = {
  faultCode: 'undercharge',
  taskCode: 'add_refrigerant',
  taskName: 'Add refrigerant by weight and readings',
  remedyClass: 'adjust',
  parts: [],
} as const;
const charge = jobOf({ work: [capacitor({ ...adding, parts: [], goods: [refrigerant] })] });
/** 2.002 lb, of which no binary fraction holds the thousandths. */
const odd = jobOf({
  work: [capacitor({ ...adding, parts: [], goods: [{ ...refrigerant, quantity: '2.002' }] })],
});
const good = 'good:finding-capacitor:add_refrigerant:refrigerant_410a';

const credited = (cut: number) =>
  withDocument(using(two, { partCode: code, quantity: '1' }), {
    credited: [{ key, amountCents: cents(cut) }],
  });

/** Labor raised by hand past what the engine allows, of which another rule speaks. */
function raisedBeyond(job: JobFacts): JobFacts {
  const document = documentOf(job);
  const { price } = document;
  if (price === undefined) throw new Error('the job has its price');
  const by = { aimedAt: keysOf(one).labor, amountCents: cents(90_000), byOwner: false };
  const adjustments = [{ ...by, reason: 'Long walk' }];
  const options = price.inputs.options.map((option) => ({ ...option, adjustments }));
  return withDocument(job, { price: { ...price, inputs: { ...price.inputs, options } } });
}

// An invoice is for what was done: PRODUCT.md, "parts used against parts invoiced".
holdRuleTo('parts_not_used', [
  { name: 'holds where everything went in', job: jobOf(), is: 'clear' },
  { name: 'holds where everything of goods went in', job: charge, is: 'clear' },
  {
    name: 'a part that never went in is charged at nothing',
    job: using(jobOf()),
    is: {
      says: [
        'Run capacitor 45/5 uF 440 V: 1 billed, 0 recorded as put in. The charge of $55.20 would have come to $0.00.',
      ],
      to: { [key]: 0 },
    },
  },
  {
    name: 'one of two is charged once',
    job: using(two, { partCode: code, quantity: '1' }),
    is: {
      says: [
        'Run capacitor 45/5 uF 440 V: 2 billed, 1 recorded as put in. The charge of $110.40 would have come to $55.20.',
      ],
      to: { [key]: 5_520 },
    },
  },
  {
    name: 'records of one part each add up',
    job: using(two, { partCode: code, quantity: '1' }, { partCode: code, quantity: '1' }),
    is: 'clear',
  },
  {
    name: 'a leftover that was taken off already is not owed again',
    job: credited(5_520),
    is: 'clear',
  },
  {
    name: 'a leftover that was taken off in part is owed the rest',
    job: credited(2_000),
    is: {
      says: [
        'Run capacitor 45/5 uF 440 V: 2 billed, 1 recorded as put in. The charge of $90.40 would have come to $55.20.',
      ],
      to: { [key]: 5_520 },
    },
  },
  {
    // 313.37 / 25 x 2 x 3.0 = 75.2088 -> 75.21, by the cost of the whole and not by the pound.
    name: 'of goods what went in is priced again by the stored book',
    job: using(charge, { partCode: 'refrigerant_410a', quantity: '2' }),
    is: {
      says: [
        'Refrigerant R-410A: 3.5 lb billed, 2 lb recorded as put in. The charge of $131.62 would have come to $75.21.',
      ],
      to: { [good]: 7_521 },
    },
  },
  {
    name: 'what went in twice under several records is exact to the last digit',
    job: using(
      charge,
      { partCode: 'refrigerant_410a', quantity: '1.3' },
      { partCode: 'refrigerant_410a', quantity: '2.2' },
    ),
    is: 'clear',
  },
  {
    name: 'thousandths add up, though no binary fraction holds them',
    job: using(
      odd,
      { partCode: 'refrigerant_410a', quantity: '0.5' },
      { partCode: 'refrigerant_410a', quantity: '1.502' },
    ),
    is: 'clear',
  },
  {
    name: 'more put in than billed asks for a look and takes nothing off',
    job: using(jobOf(), { partCode: code, quantity: '2' }),
    is: {
      says: [
        'Run capacitor 45/5 uF 440 V: 2 recorded as put in, 1 billed. Please look at which is right.',
      ],
    },
  },
  {
    name: 'what was never billed asks for a look',
    job: using(jobOf(), { partCode: code, quantity: '1' }, { partCode: 'fuse_5a', quantity: '3' }),
    is: {
      says: ['Part fuse_5a: 3 recorded as put in, none billed. Please look at which is right.'],
    },
  },
  {
    name: 'each of several that were never billed is told by itself',
    job: using(
      jobOf(),
      { partCode: code, quantity: '1' },
      { partCode: 'fuse_5a', quantity: '3' },
      { partCode: 'fuse_3a', quantity: '1' },
      { partCode: 'fuse_5a', quantity: '1' },
    ),
    is: {
      says: [
        'Part fuse_5a: 4 recorded as put in, none billed. Please look at which is right.',
        'Part fuse_3a: 1 recorded as put in, none billed. Please look at which is right.',
      ],
    },
  },
  {
    name: 'what went in under another quote does not count for this one',
    job: {
      ...jobOf(),
      work: {
        outcomes: [],
        uses: [
          {
            quoteId: 'quote-2',
            findingId: 'finding-capacitor',
            partCode: code,
            quantity: '1',
            recordedAt,
          },
        ],
      },
    },
    is: {
      says: [
        'Run capacitor 45/5 uF 440 V: 1 billed, 0 recorded as put in. The charge of $55.20 would have come to $0.00.',
        'Part capacitor_45_5: 1 recorded as put in, none billed. Please look at which is right.',
      ],
      to: { [key]: 0 },
    },
  },
  {
    name: 'a part that never went in is owed whatever was adjusted beyond its band',
    job: using(raisedBeyond(two), { partCode: code, quantity: '1' }),
    is: {
      says: [
        'Run capacitor 45/5 uF 440 V: 2 billed, 1 recorded as put in. The charge of $110.40 would have come to $55.20.',
      ],
      to: { [key]: 5_520 },
    },
  },
  {
    // Half a capacitor is no capacitor: a piece that was begun is one.
    name: 'a piece that was begun is a whole one',
    job: using(two, { partCode: code, quantity: '0.5' }),
    is: {
      says: [
        'Run capacitor 45/5 uF 440 V: 2 billed, 0.5 recorded as put in. The charge of $110.40 would have come to $55.20.',
      ],
      to: { [key]: 5_520 },
    },
  },
  {
    name: 'cannot tell what less would have come to by rules that are not known',
    job: (() => {
      const job = using(two, { partCode: code, quantity: '1' });
      const { price } = documentOf(job);
      return withDocument(job, { ...(price && { price: { ...price, rulesetVersion: 'none' } }) });
    })(),
    is: { missing: ['price_inputs'] },
  },
  {
    name: 'holds where only the fee was billed',
    job: {
      ...jobOf(),
      documents: [{ ...documentOf(jobOf()), kind: 'visit_fee' }],
      work: { outcomes: [], uses: [] },
    },
    is: 'clear',
  },
  {
    name: 'cannot tell without what went in',
    job: without(jobOf(), 'work'),
    is: { missing: ['work'] },
  },
  {
    name: 'cannot tell how much was sold without what it was priced from',
    job: withoutOfDocument(jobOf(), 'price'),
    is: { missing: ['price_inputs'] },
  },
  { name: 'cannot tell of a bill', job: billOf({ lump: 70_000 }), is: { missing: ['work'] } },
]);

describe('what is left of a charge when less went in', () => {
  const sold = (changes: Parameters<typeof capacitor>[0]) => jobOf({ work: [capacitor(changes)] });
  const answerTo = (job: JobFacts) =>
    currentAuditRuleset.rules
      .find((rule) => rule.code === 'parts_not_used')
      ?.judge(job, pricesOf());

  it('is the unit price times what went in, for pieces', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 9 }), fc.nat(9), (quantity, more) => {
        const used = more % (quantity + 1);
        const job = sold({ parts: one.parts.map((part) => ({ ...part, quantity })) });
        const answer = answerTo(using(job, { partCode: code, quantity: String(used) }));
        // 18.40 x 3.0 = 55.20 a piece.
        const to = answer?.outcome === 'flagged' ? answer.corrections[0]?.toCents : 'clear';
        expect(to).toBe(used === quantity ? 'clear' : 5_520 * used);
      }),
    );
  });

  it('is three times the cost of what went in, rounded once, for goods', () => {
    const tenths = fc.integer({ min: 1, max: 60 });
    fc.assert(
      fc.property(tenths, tenths, (some, other) => {
        const [used, all] = [Math.min(some, other), Math.max(some, other)];
        const goods = [{ ...refrigerant, quantity: String(all / 10) }];
        const job = sold({ ...adding, parts: [], goods });
        const quantity = String(used / 10);
        const answer = answerTo(using(job, { partCode: 'refrigerant_410a', quantity }));
        // 313.37 / 25 x tenths / 10 x 3, an exact half up: floor(n / 250 + 1/2).
        const cents = (of: number) => Math.floor((31_337 * of * 3 * 2 + 250) / 500);
        const to = answer?.outcome === 'flagged' ? answer.corrections[0]?.toCents : cents(all);
        expect(to).toBe(cents(used));
      }),
    );
  });
});
