import { z } from 'zod';
import { cents, instant, signedCents, text, version } from '../../platform/http/formats.ts';
import { agreementSchema } from '../../pricing/index.ts';
import { bookContentSchema, bookPartSchema, bookTaskSchema } from '../contract.ts';

const note = text(2_000);

export const newDraftSchema = z
  .strictObject({
    note,
    from: z
      .union([z.literal('in_force'), z.uuid()])
      .optional()
      .meta({
        description: 'The price book it starts from: the one in force, or another version.',
      }),
    content: bookContentSchema.optional().meta({ description: 'A whole book instead.' }),
  })
  .refine(({ from, content }) => (from === undefined) !== (content === undefined), {
    path: ['from'],
    error: 'give either `from` or `content`',
  });

const { rates, tiers, policy, periods, agreements, replacements } = bookContentSchema.shape;

/** What changes in a draft: a section is replaced as a whole; tasks and parts one by one. */
export const draftChangeSchema = z.strictObject({
  note: note.optional(),
  rates: rates.optional(),
  tiers: tiers.optional(),
  policy: policy.optional(),
  periods: periods.optional(),
  // Without the default: what is not named stays as it is.
  agreements: agreements.unwrap().optional(),
  replacements: replacements.unwrap().optional(),
  tasks: entriesChange(bookTaskSchema, 5_000).optional(),
  parts: entriesChange(bookPartSchema, 50_000).optional(),
});
export type DraftChange = z.output<typeof draftChangeSchema>;

function entriesChange<Entry extends z.ZodType>(entry: Entry, max: number) {
  return z.strictObject({
    put: z.array(entry).max(max).default([]).meta({
      description: 'Whole entries; one with a known code takes its place.',
    }),
    remove: z.array(z.string().max(100)).max(max).default([]).meta({ description: 'Codes.' }),
  });
}

export const draftStateSchema = z.enum(['open', 'published', 'dropped']);

const bookNameSchema = z.strictObject({ id: z.uuid(), number: z.int().min(1) });

/** A draft in the list of them, and what every change answers with. */
export const draftHeadSchema = z.strictObject({
  id: z.uuid(),
  note: z.string(),
  state: draftStateSchema,
  allowedActions: z.array(z.enum(['change', 'publish', 'drop'])),
  basedOn: bookNameSchema.nullable().meta({
    description: 'The price book it began as; null for one written from nothing.',
  }),
  publishedPriceBookId: z.uuid().nullable(),
  version,
  createdAt: instant,
  updatedAt: instant,
});

export const draftSchema = draftHeadSchema.extend({
  laborRateCents: cents.meta({ description: 'Per hour, derived from `rates`.' }),
  content: bookContentSchema,
});

export const draftPublicationSchema = z.strictObject({
  effectiveFrom: instant,
  overBookNumber: z
    .int()
    .min(1)
    .optional()
    .meta({
      description:
        'The newest published price book, when the draft did not begin as that one: its changes ' +
        'are not in the draft and are undone by it.',
    }),
});

const scalar = z.union([z.string(), z.number(), z.null()]);

/** One thing that is another in the draft than in the price book in force. */
export const bookChangeSchema = z.strictObject({
  list: z.enum([
    'rates',
    'tiers',
    'policy',
    'periods',
    'tasks',
    'parts',
    'agreements',
    'replacements',
  ]),
  entry: z.string().nullable().meta({
    description:
      'Its code, or its place from 1 where entries have none; null for `rates` and such.',
  }),
  change: z.enum(['added', 'removed', 'changed']),
  field: z.string().nullable().meta({
    description:
      'Null for a whole entry. `priceCents` of a part is what it sells for, worked out by the tiers.',
  }),
  before: scalar,
  after: scalar,
});
export type BookChange = z.output<typeof bookChangeSchema>;

const percent = z.string().nullable().meta({
  description: 'Of the old total, such as `-2.50`; null where that was nothing.',
});

const previewedOptionSchema = z.strictObject({
  position: z.int().min(1),
  title: z.string(),
  oldTotalCents: signedCents,
  newTotalCents: signedCents.nullable(),
  differenceCents: z.int().nullable(),
  percent,
  notPriced: z
    .strictObject({
      reason: z.enum(['missing_in_draft', 'refused_by_rule', 'not_as_stored']),
      messages: z.array(z.string()),
    })
    .nullable(),
});
export type PreviewedOption = z.output<typeof previewedOptionSchema>;

export const draftPreviewSchema = z.strictObject({
  draftId: z.uuid(),
  draftVersion: version,
  inForce: z.strictObject({ priceBookId: z.uuid(), number: z.int().min(1) }),
  outdatedBy: bookNameSchema.nullable().meta({
    description:
      'The newest published price book when the draft did not begin as that one. Publishing then ' +
      'asks for its number as `overBookNumber`.',
  }),
  changesNothing: z.boolean().meta({
    description: 'The draft says the same as the price book in force.',
  }),
  changes: z.array(bookChangeSchema),
  moreChanges: z.int().min(0).meta({ description: 'How many there are beyond those listed.' }),
  laborRate: z.strictObject({ beforeCents: cents, afterCents: cents }),
  visitFees: z.array(
    z.strictObject({
      periodCode: z.string(),
      beforeCents: cents.nullable(),
      afterCents: cents.nullable(),
    }),
  ),
  feesTold: z.string().meta({ description: 'What these totals do about the visit fee.' }),
  quotes: z.array(
    z.strictObject({
      quoteId: z.uuid(),
      number: z.int(),
      revision: z.int().min(1),
      issuedAt: instant,
      plan: agreementSchema.nullable().meta({
        description:
          'The maintenance agreement of the site by which it is priced again: as it was agreed to, ' +
          'and better where the draft’s plan of the same code is.',
      }),
      options: z.array(previewedOptionSchema),
    }),
  ),
  summary: z.strictObject({
    optionsPriced: z.int().min(0),
    optionsNotPriced: z.int().min(0),
    up: z.int().min(0),
    down: z.int().min(0),
    same: z.int().min(0),
    differenceCents: z.int().meta({ description: 'All differences together.' }),
    median: z
      .strictObject({ cents: z.int(), percent })
      .nullable()
      .meta({ description: 'The middle difference; of two middle ones the lower.' }),
    largest: z
      .strictObject({
        quoteNumber: z.int(),
        position: z.int().min(1),
        cents: z.int(),
        percent,
      })
      .nullable()
      .meta({ description: 'The difference that is the most cents, up or down.' }),
  }),
});
export type DraftPreview = z.output<typeof draftPreviewSchema>;
