import { z } from 'zod';
import { cents, day, instant, signedCents, text } from '../platform/http/formats.ts';
import { chargeClassSchema } from '../pricing/index.ts';
import { followUpDays } from './follow-up-steps.ts';
import { whySchema } from './why-contract.ts';

export const quoteStateSchema = z.enum([
  'draft',
  'issued',
  'accepted',
  'declined',
  'withdrawn',
  'superseded',
]);

const paperLanguageSchema = z.enum(['en', 'es']);

const throughSchema = z.enum(['staff', 'link']).meta({
  description: 'Recorded by our staff, or given at the customer’s own link.',
});

const linkMadeBySchema = z
  .strictObject({ staffId: z.uuid(), staffName: z.string(), madeAt: instant })
  .nullable()
  .meta({
    description:
      'Who of our staff made the link it came through, and so could open it too; null where our ' +
      'staff recorded it themselves, and where the link was made for a mail and told to nobody.',
  });

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

const optionsRequest = z
  .array(optionRequestSchema)
  .min(1)
  .max(3)
  .superRefine((options, context) => {
    const seen = new Map<string, number>();
    for (const [at, { findingIds, adjustments }] of options.entries()) {
      const same = JSON.stringify([[...new Set(findingIds)].sort(), adjustments]);
      const first = seen.get(same);
      if (first === undefined) seen.set(same, at);
      else {
        context.addIssue({
          code: 'custom',
          path: [at, 'findingIds'],
          message: `is the same work as option ${first + 1}: a customer cannot choose between them`,
        });
      }
    }
  });

export const newQuoteSchema = z.strictObject({
  visitId: z.uuid(),
  changeOrderOf: z.uuid().optional().meta({
    description: 'The accepted quote of the ticket that this adds to.',
  }),
  options: optionsRequest,
});

export const revisionRequestSchema = z.strictObject({ options: optionsRequest });

export const partialYesSchema = z.strictObject({
  optionId: z.uuid(),
  findingIds: z.array(z.uuid()).min(1).max(40).meta({
    description: 'Those findings of the option that shall be mended: some, and not all.',
  }),
});

export const acceptanceRequestSchema = z.strictObject({
  optionId: z.uuid(),
  acceptedByName: text(200),
  consentText: text(2_000).meta({ description: 'The words that were agreed to.' }),
  shownTotalCents: cents.meta({ description: 'The total the customer was shown.' }),
  shownContentHash: z.string().regex(/^[0-9a-f]{64}$/),
  beyondLimitAgreedBy: text(200).optional().meta({
    description: 'Who agreed, where the total is above the limit of the site’s approver.',
  }),
  language: paperLanguageSchema.default('en').meta({
    description: 'In which language the paper was read.',
  }),
});

export const cancellationRequestSchema = z.strictObject({
  cancelledByName: text(200),
  noticeText: text(2_000).meta({ description: 'The words by which the yes was taken back.' }),
});

export const declineRequestSchema = z.strictObject({
  declinedByName: text(200),
  reason: text(1_000).optional(),
  conditionLeft: text(1_000).meta({ description: 'How the system was left.' }),
  dangerWarned: text(1_000).optional().meta({ description: 'Any danger warned of.' }),
});

export const declineNoteSchema = declineRequestSchema.pick({
  conditionLeft: true,
  dangerWarned: true,
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
  parentId: z.uuid().nullable().meta({
    description: 'The quote that this one changes, if it is a change order.',
  }),
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
      through: throughSchema,
      linkMadeBy: linkMadeBySchema,
      language: paperLanguageSchema,
      cancelUntil: instant.nullable().meta({
        description: 'Until when the customer may take it back; null where no rule says so.',
      }),
      cancellation: z
        .strictObject({
          cancelledByName: z.string(),
          cancelledAt: instant,
          through: throughSchema,
          linkMadeBy: linkMadeBySchema,
        })
        .nullable(),
    })
    .nullable(),
  decline: z
    .strictObject({
      revision: z.int(),
      declinedByName: z.string(),
      reason: z.string().nullable(),
      conditionLeft: z.string().nullable().meta({
        description: 'Null where the customer said no from afar, until our staff say it.',
      }),
      dangerWarned: z.string().nullable(),
      declinedAt: instant,
      through: throughSchema,
      linkMadeBy: linkMadeBySchema,
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

export const confirmationRequestSchema = z.strictObject({
  statement: text(8_000).meta({
    description: 'What the owner confirms, word for word as `newEquipment.statement` has it.',
  }),
});

export const confirmationSchema = z.strictObject({
  revision: z.int().min(1),
  kind: z.literal('refrigerant_rules'),
  statement: z.string(),
  confirmedAt: instant,
  confirmedById: z.uuid(),
});

const warrantySchema = z
  .strictObject({ until: day, runs: z.boolean(), daysLeft: z.int().min(0) })
  .nullable()
  .meta({ description: 'Null where none is recorded. The last day still counts.' });

const sourcedFactSchema = z.strictObject({ sentence: z.string(), source: z.string() });

const ruleOfThumbSchema = z.strictObject({
  code: z.enum(['age_times_repair', 'half_of_replacement', 'third_of_replacement', 'age_alone']),
  basis: z.literal('common practice, no source'),
  outcome: z.enum(['holds', 'does_not_hold', 'unknown']),
  decides: z.boolean().meta({ description: 'Whether it can bring up replacing at all.' }),
  ageYears: z.int().nullable(),
  repairCents: signedCents.nullable(),
  replacementCents: cents.nullable(),
  threshold: z.strictObject({ value: z.int().nullable(), unit: z.enum(['cents', 'years']) }),
  sentence: z.string(),
});

const mendedMachineSchema = z.strictObject({
  equipmentId: z.uuid(),
  word: z.enum(['repair', 'repair_and_talk_about_replacing']).meta({
    description: 'There is no third word: nothing here ever says to replace.',
  }),
  reason: z.enum([
    'no_repair_in_it',
    'costs_little',
    'under_warranty',
    'warranty_not_recorded',
    'no_rule_of_money_holds',
    'rule_of_money_holds',
  ]),
  sentence: z.string(),
  ageYears: z.int().nullable().meta({ description: 'Whole years; null when not recorded.' }),
  repairCents: signedCents.meta({
    description:
      'The total of the option; of one that mends several machines, the lines of this machine.',
  }),
  typicalReplacementCents: cents.nullable().meta({
    description: 'By the owner’s price book; null where it names none. Never guessed.',
  }),
  warranties: z.strictObject({
    parts: warrantySchema,
    compressor: warrantySchema,
    labor: warrantySchema,
  }),
  refrigerant: z.array(sourcedFactSchema),
  rulesOfThumb: z.array(ruleOfThumbSchema),
});

const equipmentCheckSchema = z.strictObject({
  code: z.enum(['refrigerant', 'dates', 'match', 'flammable', 'recovery', 'local']),
  check: z.string(),
  days: z.array(z.strictObject({ day, meaning: z.string() })),
  source: z.string(),
  standing: z.literal('to_be_confirmed_by_the_owner'),
});

export const repairOrReplaceSchema = z.strictObject({
  quoteId: z.uuid(),
  revision: z.int().min(1),
  asOf: day.meta({ description: 'The day of issue; of a draft, today.' }),
  options: z.array(
    z.strictObject({
      optionId: z.uuid(),
      position: z.int().min(1),
      title: z.string(),
      installsEquipment: z.boolean().meta({
        description: 'A new machine: nothing is mended, so `machines` is empty.',
      }),
      machines: z.array(mendedMachineSchema),
    }),
  ),
  newEquipment: z
    .strictObject({
      checks: z.array(equipmentCheckSchema),
      statement: z.string(),
      confirmation: confirmationSchema.nullable(),
    })
    .nullable()
    .meta({ description: 'What the owner looks up and confirms before it may be issued.' }),
});

const followedSchema = z.strictObject({
  step: z.int().min(1).max(followUpDays.length),
  way: z.enum(['call', 'text', 'mail', 'in_person']),
  note: z.string().nullable(),
  followedAt: instant,
});

export const newFollowUpSchema = z.strictObject({
  revision: z.int().min(1),
  step: followedSchema.shape.step.meta({ description: 'Which of the calls that were due.' }),
  way: followedSchema.shape.way,
  note: text(1_000).optional(),
});

export const recordedFollowUpSchema = followedSchema.extend({
  quoteId: z.uuid(),
  revision: z.int().min(1),
});

const reachedAt = z.strictObject({ name: z.string(), phone: z.string() });

export const followUpSchema = z.strictObject({
  quoteId: z.uuid(),
  number: z.int(),
  revision: z.int().min(1),
  ticketId: z.uuid(),
  ticketNumber: z.int(),
  approver: reachedAt,
  ask: reachedAt.extend({ as: z.enum(['approver', 'payer']) }).meta({
    description:
      'Whom to ask: the approver; the payer where every option is above the approver’s limit.',
  }),
  totalFromCents: cents.meta({ description: 'The cheapest option.' }),
  totalToCents: cents.meta({ description: 'The dearest option.' }),
  issuedAt: instant,
  validUntil: instant,
  todo: z.enum(['follow_up', 'issue_again_or_close']).meta({
    description:
      'Ask for an answer; or, where the quote ran out without one, issue a new one or close the ' +
      'ticket.',
  }),
  next: z
    .strictObject({ step: z.int().min(1), dueAt: instant, overdue: z.boolean() })
    .nullable()
    .meta({ description: 'Null when no call is left before it expires.' }),
  last: followedSchema.nullable(),
});

export const answerToActOnSchema = z.strictObject({
  quoteId: z.uuid(),
  number: z.int(),
  ticketId: z.uuid(),
  ticketNumber: z.int(),
  answer: z.enum(['yes', 'no', 'taken_back']),
  answeredAt: instant,
  answeredByName: z.string(),
  through: throughSchema,
  linkMadeBy: linkMadeBySchema,
  next: z.enum(['book_return', 'close_ticket']).meta({
    description:
      'Book the return visit where work that was agreed to waits; else close the ticket.',
  }),
  occupant: reachedAt.meta({ description: 'Who lets the technician in.' }),
});
