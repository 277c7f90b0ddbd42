import { describe, expect, it } from 'vitest';
import type { JobFacts } from '../../../src/auditing/index.ts';
import { cents, type TaxRule } from '../../../src/pricing/index.ts';
import type { HandInputs } from '../../pricing/oracle/hand-inputs.ts';
import { billOf } from '../bill-of.ts';
import {
  capacitor,
  contactor,
  documentOf,
  inputsOf,
  jobOf,
  keysOf,
  withDocument,
  withoutOfDocument,
} from '../job-of.ts';
import { holdRuleTo } from './hold-rule-to.ts';
import { holdsCases, judgedBy } from './rule-cases.ts';

/*
 * The tax is what the rule in force at the yes comes to on what is left. PRODUCT.md, "Price";
 * rounding by the Streamlined Sales and Use Tax Agreement, section 324. Part 55.20 at 8.25 %: 4.55.
 */
const { part } = keysOf(capacitor());
const both = [capacitor(), contactor()];

function ruleOf(tax: Partial<HandInputs['tax']> = {}): TaxRule {
  return inputsOf([], { tax }).tax;
}

function taxLeft(amountCents: number, job = jobOf()): JobFacts {
  return withDocument(job, { taxLeftCents: cents(amountCents) });
}

const lumpSum: Partial<HandInputs['tax']> = { mode: 'lump_sum' };

describe('the tax is what the rule in force comes to', () => {
  holdsCases('tax_wrong', [
    { name: 'as the rule has it', job: () => jobOf(), expected: 'clear' },
    {
      name: 'at 10 % where the rule in force has 8.25 %',
      job: () => withDocument(jobOf({ tax: { rate: '0.10' } }), { taxInForce: ruleOf() }),
      expected: { back: {}, taxCents: 97, overCents: 97 },
    },
    {
      // 8.25 % of 168.45 is 13.897.
      name: 'on labor, which the rule does not tax',
      job: () =>
        withDocument(jobOf({ tax: { taxableClasses: ['part', 'labor'] } }), {
          taxInForce: ruleOf(),
        }),
      expected: { back: {}, taxCents: 935, overCents: 935 },
    },
    {
      name: 'more than its own rule comes to',
      job: () => taxLeft(600),
      expected: { back: {}, taxCents: 145, overCents: 145 },
    },
    { name: 'less than the rule comes to', job: () => taxLeft(100), expected: 'look' },
    {
      // On the invoice 9.94, line by line 4.55 + 5.38.
      name: 'once for the invoice where the rule rounds line by line',
      job: () => withDocument(jobOf({ work: both }), { taxInForce: ruleOf({ basis: 'item' }) }),
      expected: { back: {}, taxCents: 1, overCents: 1 },
    },
    {
      // 8.25 % of 35.20 is 2.904.
      name: 'not given back with what it was on',
      job: () => withDocument(jobOf(), { credited: [{ key: part, amountCents: cents(2_000) }] }),
      expected: { back: {}, taxCents: 165, overCents: 165 },
    },
    {
      name: 'none under a lump sum',
      job: () => jobOf({ tax: lumpSum }),
      expected: 'clear',
    },
    {
      name: 'charged all the same under a lump sum',
      job: () => taxLeft(455, jobOf({ tax: lumpSum })),
      expected: { back: {}, taxCents: 455, overCents: 455 },
    },
    {
      name: 'charged apart where the rule in force asks for a lump sum',
      job: () => withDocument(jobOf(), { taxInForce: ruleOf(lumpSum) }),
      expected: { back: {}, taxCents: 455, overCents: 455 },
    },
    {
      // Parts are 55.20 of 257.45 before the credit, more than a tenth.
      name: 'a lump sum whose goods are so much of it that the rule taxes them apart',
      job: () => jobOf({ tax: { ...lumpSum, separateAboveShare: '0.1' } }),
      expected: 'clear',
    },
    {
      name: 'charged where no rule is on record',
      job: () => withDocument(jobOf(), { taxInForce: null }),
      expected: 'look',
    },
    {
      name: 'not charged where no rule is on record',
      job: () => withDocument(jobOf({ tax: { rate: '0' } }), { taxInForce: null }),
      expected: 'clear',
    },
    {
      name: 'a fee that is taxed',
      job: () => {
        // 8 % of 89.00.
        const tax = { rate: '0.08', taxableClasses: ['visit_fee' as const] };
        const job = jobOf({ tax, work: [] });
        const { lines } = documentOf(job);
        return withDocument(job, {
          kind: 'visit_fee',
          lines: lines.filter(({ kind }) => kind === 'visit_fee' || kind === 'tax'),
          taxLeftCents: cents(800),
        });
      },
      expected: { back: {}, taxCents: 88, overCents: 88 },
    },
    {
      name: 'without the rule in force it cannot be said',
      job: () => withoutOfDocument(jobOf(), 'taxInForce'),
      expected: { missing: ['tax_in_force'] },
    },
    {
      name: 'of an imported bill it cannot be said',
      job: () => billOf({ lump: 70_000 }),
      expected: { missing: ['tax_in_force'] },
    },
  ]);
});

/*
 * A tax that was not collected is not asked of the customer later. The seller owes it all the same:
 * California Revenue and Taxation Code, section 6204; West Virginia Code, section 11-15-4a.
 */
const toldOfShort =
  'The customer owes nothing more. In most states the company owes the state what it did not collect: please tell whoever files the sales tax.';

holdRuleTo('tax_wrong', [
  {
    name: 'too little tax says how much is short and who owes it',
    job: taxLeft(100),
    is: {
      says: [
        `$3.55 of tax is short on quote 1001: $1.00 is charged, and Sales tax at 8.25% comes to $4.55 on what is left of it. ${toldOfShort}`,
      ],
    },
  },
  {
    name: 'a cent too little is short, too',
    job: taxLeft(454),
    is: {
      says: [
        `$0.01 of tax is short on quote 1001: $4.54 is charged, and Sales tax at 8.25% comes to $4.55 on what is left of it. ${toldOfShort}`,
      ],
    },
  },
  {
    name: 'no tax at all where the rule in force asks for it apart',
    job: withDocument(jobOf({ tax: lumpSum }), { taxInForce: ruleOf() }),
    is: {
      says: [
        `$4.55 of tax is short on quote 1001: none is charged, and Sales tax at 8.25% comes to $4.55 on what is left of it. ${toldOfShort}`,
      ],
    },
  },
  {
    // Of 35.20 left of the part 2.90 are due.
    name: 'what a memo gave back is not counted as short',
    job: withDocument(jobOf(), {
      credited: [{ key: part, amountCents: cents(2_000) }],
      taxLeftCents: cents(200),
    }),
    is: {
      says: [
        `$0.90 of tax is short on quote 1001: $2.00 is charged, and Sales tax at 8.25% comes to $2.90 on what is left of it. ${toldOfShort}`,
      ],
    },
  },
]);

describe('too little tax on one document', () => {
  it('is not set off against too much on another: neither customer nor state pays for the other', () => {
    const short = documentOf(taxLeft(100));
    const over = { ...documentOf(taxLeft(600)), position: 2, title: 'quote 1002' };
    const { flags, overCents } = judgedBy('tax_wrong', {
      ...jobOf(),
      documents: [short, over],
    });
    expect(overCents).toBe(145);
    expect(flags.map(({ severity }) => severity)).toEqual(['owed']);
    expect(flags.flatMap(({ sentences }) => sentences)).toEqual([
      `$3.55 of tax is short on quote 1001: $1.00 is charged, and Sales tax at 8.25% comes to $4.55 on what is left of it. ${toldOfShort}`,
      'Tax of $6.00 is charged on quote 1002; Sales tax at 8.25% comes to $4.55 on what is left of it.',
    ]);
  });
});
