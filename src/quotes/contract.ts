import { z } from 'zod';
import { cents, instant, signedCents, text } from '../platform/http/formats.ts';
import { chargeClassSchema } from '../pricing/index.ts';

export const quoteStateSchema = z.enum([
  'draft',
  'issued',
  'accepted',
  'declined',
  'withdrawn',
  'superseded',
]);

const adjustmentRequestSchema = z.strictObject({
  aimedAt: text(400).meta({ description: 'Key of the line it adjusts.' }),
  amountCents: signedCents,
  reason: text(500),
});

export const optionRequestSchema = z.strictObject({
  title: text(120),
  findingIds: z.array(z.uuid()).max(40).meta({
    description: 'Which findings this option mends. Nobody types a price.',
  }),
  adjustments: z.array(adjustmentRequestSchema).max(20).default([]),
});

const optionsRequest = z.array(optionRequestSchema).min(1).max(3);

export const newQuoteSchema = z.strictObject({ visitId: z.uuid(), options: optionsRequest });

export const revisionRequestSchema = z.strictObject({ options: optionsRequest });

export const acceptanceRequestSchema = z.strictObject({
  optionId: z.uuid(),
  acceptedByName: text(200),
  consentText: text(2_000).meta({ description: 'The words that were agreed to.' }),
  shownTotalCents: cents.meta({ description: 'The total the customer was shown.' }),
  shownContentHash: z.string().regex(/^[0-9a-f]{64}$/),
  beyondLimitAgreedBy: text(200).optional().meta({
    description: 'Who agreed, where the total is above the limit of the site’s approver.',
  }),
});

export const declineRequestSchema = z.strictObject({
  declinedByName: text(200),
  reason: text(1_000).optional(),
  conditionLeft: text(1_000).meta({ description: 'How the system was left.' }),
  dangerWarned: text(1_000).optional().meta({ description: 'Any danger warned of.' }),
});

const whySchema = z
  .strictObject({
    sentence: z.string(),
    steps: z.array(z.unknown()).readonly(),
    owner: z
      .array(z.unknown())
      .readonly()
      .optional()
      .meta({ description: 'Costs; for the owner only.' }),
  })
  .meta({
    description: 'Why this price: a sentence, and the tree of inputs, steps and roundings.',
  });

export const quoteLineSchema = z.strictObject({
  position: z.int().min(1),
  key: z.string(),
  kind: z.enum([
    'visit_fee',
    'part',
    'good',
    'labor',
    'access',
    'discount',
    'credit',
    'adjustment',
    'tax',
  ]),
  class: z.union([chargeClassSchema, z.literal('tax')]),
  code: z.string(),
  description: z.string(),
  findingIds: z.array(z.uuid()),
  aimedAt: z.string().nullable(),
  quantity: z.int().nullable(),
  unitPriceCents: cents.nullable(),
  minutes: z.int().nullable(),
  measured: z.string().nullable().meta({ description: 'How much, of a `good`, in `unit`.' }),
  unit: z.string().nullable().meta({ description: 'UCUM: `[lb_av]`, `[ft_i]`, ….' }),
  amountCents: signedCents,
  why: whySchema,
});

export const quoteSchema = z.strictObject({
  id: z.uuid(),
  number: z.int(),
  ticketId: z.uuid(),
  visitId: z.uuid(),
  parentId: z.uuid().nullable(),
  revision: z.int().min(1).meta({ description: 'The revision shown: the latest unless asked.' }),
  state: quoteStateSchema,
  expired: z.boolean().meta({ description: 'Issued, and its validity has ended.' }),
  allowedActions: z.array(z.string()),
  issuedAt: instant.nullable(),
  validUntil: instant.nullable(),
  contentHash: z.string().nullable().meta({ description: 'SHA-256 of everything it says.' }),
  rulesetVersion: z.string(),
  laborRateCents: cents,
  declineTotalCents: cents.meta({
    description: 'What is owed after a no: the visit fee and its tax.',
  }),
  options: z.array(
    z.strictObject({
      id: z.uuid(),
      position: z.int().min(1),
      title: z.string(),
      classTotals: z
        .record(chargeClassSchema, signedCents)
        .meta({ description: 'Net of discounts and credits, before tax.' }),
      taxCents: cents,
      totalCents: cents,
      lines: z.array(quoteLineSchema),
    }),
  ),
  revisions: z.array(z.strictObject({ revision: z.int(), state: quoteStateSchema })),
  acceptance: z
    .strictObject({
      revision: z.int(),
      optionId: z.uuid(),
      totalCents: cents,
      acceptedByName: z.string(),
      acceptedAt: instant,
    })
    .nullable(),
  decline: z
    .strictObject({
      revision: z.int(),
      declinedByName: z.string(),
      reason: z.string().nullable(),
      conditionLeft: z.string(),
      dangerWarned: z.string().nullable(),
      declinedAt: instant,
    })
    .nullable(),
});

export const quoteSummarySchema = quoteSchema.pick({
  id: true,
  number: true,
  ticketId: true,
  visitId: true,
  revision: true,
  state: true,
});
