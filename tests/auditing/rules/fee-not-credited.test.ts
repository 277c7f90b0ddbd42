import { describe } from 'vitest';
import type { JobDocument, JobFacts } from '../../../src/auditing/index.ts';
import { cents } from '../../../src/pricing/index.ts';
import { bookOf } from '../../pricing/book-of.ts';
import type { HandInputs } from '../../pricing/oracle/hand-inputs.ts';
import { billOf } from '../bill-of.ts';
import {
  capacitor,
  charging,
  contactor,
  documentOf,
  inputsOf,
  jobOf,
  keysOf,
  withDocument,
  withoutOfDocument,
} from '../job-of.ts';
import { holdsCases } from './rule-cases.ts';

/*
 * A yes credits the policy's share of the visit fee, at most the labor and access charged, so that
 * repairing never totals less than declining. PRODUCT.md, "Price": half of 89.00 is 44.50.
 */
const { labor } = keysOf(capacitor());

/** The credit at another amount; at none the line is not there. */
function crediting(job: JobFacts, amountCents: number): JobFacts {
  const { lines } = documentOf(job);
  return withDocument(job, {
    lines: lines.flatMap((line) => {
      if (line.kind !== 'credit') return [line];
      return amountCents === 0 ? [] : [{ ...line, amountCents: cents(-amountCents) }];
    }),
  });
}

function creditShare(share: string): Partial<HandInputs> {
  return { policy: { ...inputsOf([]).policy, visitFeeCreditShare: share } };
}

const noFee = { visitFee: { chargeable: false as const, reason: 'billed by itself' } };

/** A yes that charges no fee, and beside it the fee of a visit as a document of its own. */
function withFeeBeside(visitId: string, yes = jobOf({ inputs: noFee })): JobFacts {
  const { lines, ...whole } = documentOf(jobOf({ work: [] }));
  const fee: JobDocument = {
    ...whole,
    ...{ position: 2, kind: 'visit_fee', title: 'the visit fee of May 4', quoteId: null, visitId },
    lines: lines.filter(({ key }) => key === 'visit_fee'),
  };
  return { ...yes, documents: [{ ...documentOf(yes), visitId: 'visit-1' }, fee] };
}

/** Everything taxed at 8 % but labor; a no comes to 89.00 + 7.12 = 96.12. */
const feeTaxed = { tax: { rate: '0.08', taxableClasses: ['visit_fee' as const] } };

describe('a yes credits the visit fee as far as the policy says', () => {
  holdsCases('fee_not_credited', [
    { name: 'half of it, as told', job: () => jobOf(), expected: 'clear' },
    {
      name: 'more than was due',
      job: () => crediting(jobOf(), 6_000),
      expected: 'clear',
    },
    {
      name: 'nothing of it',
      job: () => crediting(jobOf(), 0),
      expected: { back: { visit_fee: 4_450 }, overCents: 4_450 },
    },
    {
      name: 'less of it',
      job: () => crediting(jobOf(), 2_000),
      expected: { back: { visit_fee: 2_450 }, overCents: 2_450 },
    },
    {
      name: 'the policy it was priced from credits nothing, the one in force half',
      job: () => jobOf({ inputs: creditShare('0'), book: bookOf(inputsOf([capacitor()])) }),
      expected: { back: { visit_fee: 4_450 }, overCents: 4_450 },
    },
    {
      name: 'a policy that credits nothing',
      job: () => jobOf({ inputs: creditShare('0') }),
      expected: 'clear',
    },
    {
      // 10 min: 25.17, less than half the fee.
      name: 'no more than the labor charged is due',
      job: () => crediting(jobOf({ work: [capacitor({ minutes: 10 })] }), 0),
      expected: { back: { visit_fee: 2_517 }, overCents: 2_517 },
    },
    {
      name: 'what a fee credited whole comes to',
      job: () => crediting(jobOf({ inputs: creditShare('1') }), 0),
      expected: { back: { visit_fee: 8_900 }, overCents: 8_900 },
    },
    {
      // 36 min 90.60. With 83.89 credited the yes comes to 5.11 + 0.41 + 90.60 = 96.12, as the no.
      name: 'the tax on the fee limits the credit, so that repairing is never cheaper than a no',
      job: () =>
        jobOf({
          ...feeTaxed,
          work: [capacitor({ minutes: 36, parts: [] })],
          inputs: creditShare('1'),
        }),
      expected: 'clear',
    },
    {
      name: 'given back by a memo since',
      job: () =>
        withDocument(crediting(jobOf(), 0), {
          credited: [{ key: 'visit_fee', amountCents: cents(4_450) }],
        }),
      expected: 'clear',
    },
    {
      name: 'labor given back since leaves nothing to credit the fee against',
      job: () =>
        withDocument(crediting(jobOf(), 0), {
          credited: [{ key: labor, amountCents: cents(11_325) }],
        }),
      expected: 'clear',
    },
    {
      name: 'a credit that was cut because work was left undone stands',
      job: () =>
        withDocument(jobOf(), { credited: [{ key: 'visit_fee', amountCents: cents(-2_000) }] }),
      expected: 'clear',
    },
    {
      name: 'a no credits nothing',
      job: () => jobOf({ work: [] }),
      expected: 'clear',
    },
    {
      name: 'a trip without a fee',
      job: () => jobOf({ inputs: { visitFee: { chargeable: false, reason: 'parts return' } } }),
      expected: 'clear',
    },
    {
      name: 'a fee billed by itself beside a yes of the same visit',
      job: () => withFeeBeside('visit-1'),
      expected: { back: { visit_fee: 4_450 }, overCents: 4_450 },
    },
    {
      // 10 min: 25.17.
      name: 'a fee billed by itself is credited as far as the labor of the yes goes',
      job: () =>
        withFeeBeside('visit-1', jobOf({ work: [capacitor({ minutes: 10 })], inputs: noFee })),
      expected: { back: { visit_fee: 2_517 }, overCents: 2_517 },
    },
    {
      name: 'a fee billed by itself beside a yes of another visit',
      job: () => withFeeBeside('visit-2'),
      expected: 'clear',
    },
    {
      name: 'labor of a change order is there to credit the fee against',
      job: () => {
        const yes = crediting(jobOf(), 0);
        const change = documentOf(jobOf({ work: [contactor()], inputs: noFee }));
        const place = { position: 2, quoteId: 'quote-2', parentQuoteId: 'quote-1' };
        const credited = [{ key: labor, amountCents: cents(11_325) }];
        return {
          ...yes,
          documents: [
            { ...documentOf(yes), credited },
            { ...change, ...place },
          ],
        };
      },
      expected: { back: { visit_fee: 4_450 }, overCents: 4_450 },
    },
    {
      name: 'a fee that was too dear and was lowered is credited all the same',
      job: () =>
        withDocument(charging(crediting(jobOf(), 0), { visit_fee: 9_900 }), {
          credited: [{ key: 'visit_fee', amountCents: cents(1_000) }],
        }),
      expected: { back: { visit_fee: 4_450 }, overCents: 4_450 },
    },
    {
      name: 'without what it was priced from it cannot be said',
      job: () => withoutOfDocument(jobOf(), 'price'),
      expected: { missing: ['price_inputs'] },
    },
    {
      name: 'what an imported bill promised for a yes is not known',
      job: () => billOf({ visit_fee: 8_900, labor: 15_000 }),
      expected: { missing: ['price_inputs'] },
    },
  ]);
});
