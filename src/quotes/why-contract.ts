import { z } from 'zod';
import { confidential } from '../platform/access/confidential.ts';
import { cents, signedCents } from '../platform/http/formats.ts';
import { goodsUnitSchema, type WhyNode } from '../pricing/index.ts';

const named = { name: z.string() };
const exact = z
  .string()
  .regex(/^-?\d+\/\d+$/)
  .meta({
    description: 'Before any rounding: a fraction, not reduced, such as `679500/60`.',
  });
const unit = z.enum([
  'cents',
  'cents_per_hour',
  'minutes',
  'hours',
  'count',
  'ratio',
  ...goodsUnitSchema.options,
]);

/** A tree of any depth: what a step or a rounding stands on is again inputs, steps and roundings. */
export const whyNodeSchema: z.ZodType<WhyNode, WhyNode> = z
  .discriminatedUnion('node', [
    z.strictObject({
      node: z.literal('input'),
      ...named,
      value: z.string().meta({ description: 'Digits, as the input was given.' }),
      unit,
    }),
    z.strictObject({ node: z.literal('step'), ...named, exact, unit, from: nodes() }),
    z.strictObject({
      node: z.literal('rounding'),
      ...named,
      rule: z.literal('half_up_to_cent'),
      exact: exact.meta({ description: 'In cents, before the rounding.' }),
      cents: z.int().brand<'Cents', 'inout'>(),
      from: nodes(),
    }),
  ])
  .meta({
    id: 'WhyNode',
    description: 'An input as it was given, a step in exact numbers, or a rounding to the cent.',
  });

function nodes() {
  return z.array(z.lazy(() => whyNodeSchema)).readonly();
}

export const whySchema = z
  .strictObject({
    sentence: z.string(),
    steps: z.array(whyNodeSchema).readonly(),
    owner: confidential(
      z.array(whyNodeSchema).readonly().optional().meta({
        description: 'Costs; for the owner only.',
      }),
      'cost',
    ),
  })
  .meta({
    description: 'Why this price: a sentence, and the tree of inputs, steps and roundings.',
  });

const explainedLineSchema = z.strictObject({
  position: z.int().min(1),
  key: z.string(),
  description: z.string(),
  amountCents: signedCents,
  why: whySchema,
});

const explained = {
  lines: z.array(explainedLineSchema),
  totalCents: cents,
  total: whyNodeSchema.meta({ description: 'The sum of the lines.' }),
  taxed: z.array(whyNodeSchema).readonly().meta({
    description: 'Each amount that tax was reckoned on, as the sum of its lines.',
  }),
};

/** Why a quote costs what it costs, down to what was put in. */
export const quoteWhySchema = z.strictObject({
  quoteId: z.uuid(),
  number: z.int(),
  revision: z.int().min(1),
  rulesetVersion: z.string(),
  laborRate: z.strictObject({ cents, why: whySchema }),
  options: z.array(
    z.strictObject({
      position: z.int().min(1),
      title: z.string(),
      ...explained,
      companyUseTax: confidential(
        z.strictObject({ cents, why: whyNodeSchema }).optional().meta({
          description:
            'What the company owes itself on its materials of a lump-sum job; for the owner only.',
        }),
        'cost',
      ),
    }),
  ),
  decline: z.strictObject(explained).meta({ description: 'What is owed after a no.' }),
});
export type QuoteWhy = z.input<typeof quoteWhySchema>;
