import { z } from 'zod';
import { cents, code, day, instant, text } from '../platform/http/formats.ts';
import {
  agreementSchema,
  factorsRise,
  goodsTaxClassSchema,
  goodsUnitSchema,
  measuredSchema,
  partTiersSchema,
  periodSchema,
  policySchema,
  rateInputsSchema,
  shareSchema,
  taxRuleSchema,
} from '../pricing/index.ts';
import {
  equipmentKindSchema,
  faultCodeSchema,
  partSchema,
  remedyClassSchema,
  taskCodeSchema,
} from '../trade/index.ts';
import { goodsMistakes } from './goods-mistakes.ts';
import { ratesSchema } from './rates-contract.ts';

/** Minutes since local midnight, as `08:00`. */
const timeOfDay = z.string().regex(/^([01]\d|2[0-3]):[0-5]\d$/, { error: 'a time such as 08:00' });

/**
 * One row of the fee schedule with the hours it covers. The rows are tried in order and the last
 * one has no hours: it covers the rest.
 */
export const schedulePeriodSchema = periodSchema.extend({
  code,
  hours: z
    .strictObject({
      weekdays: z.array(z.int().min(1).max(7)).min(1).max(7).meta({ description: '1 is Monday.' }),
      from: timeOfDay,
      to: timeOfDay,
    })
    .nullable(),
});
export type SchedulePeriod = z.infer<typeof schedulePeriodSchema>;

export const bookTaskSchema = z.strictObject({
  code: taskCodeSchema,
  name: text(120),
  minutes: z.int().min(0).max(6_000),
  accessGroup: code,
  accessMinutes: z.int().min(0).max(600),
});

/** Which of the maker's warranties replaces a part free of charge. */
export const warrantyClassSchema = z.enum(['none', 'unit', 'compressor']);

export const bookPartSchema = z.strictObject({
  code: z.string().regex(/^[A-Za-z0-9][A-Za-z0-9._-]{0,59}$/, { error: 'a part code' }),
  name: text(120),
  costCents: cents.meta({ description: 'Of one piece or, when measured, of one pack.' }),
  // Everything is a part unless the owner says otherwise: a tax rule that lists only parts must
  // not miss refrigerant.
  taxClass: goodsTaxClassSchema.default('part').meta({
    description: 'How the tax rule looks at it; `part` when absent, whatever it is.',
  }),
  warrantyClass: warrantyClassSchema.default('none').meta({
    description: 'Which warranty of the maker replaces it free of charge while it runs.',
  }),
  measured: z
    .strictObject({ unit: goodsUnitSchema, packQuantity: measuredSchema })
    .optional()
    .meta({
      description: 'Sold by weight, length or volume: the unit, and how much a pack holds.',
    }),
  supplier: text(120).optional(),
  fit: partSchema,
});

/** A maintenance agreement as the company offers it. */
export const bookAgreementSchema = agreementSchema.extend({
  code,
  name: text(120),
  annualPriceCents: cents,
  visitsPerYear: z.int().min(1).max(52),
});

/** What a new machine typically costs, installed: a fact for repairing or replacing, no price. */
export const replacementSchema = z.strictObject({
  kind: equipmentKindSchema,
  tonsUpTo: z.number().positive().max(100).nullable().meta({
    description: 'Up to this size, included; null on the last row of a kind: any size.',
  }),
  typicalPriceCents: cents,
});

/** Everything a price book says but when it takes effect. */
export const bookContentSchema = z
  .strictObject({
    rates: ratesSchema,
    tiers: partTiersSchema,
    policy: policySchema,
    periods: z.array(schedulePeriodSchema).min(1).max(20),
    tasks: z.array(bookTaskSchema).min(1).max(5_000),
    parts: z.array(bookPartSchema).max(50_000),
    agreements: z.array(bookAgreementSchema).max(50).default([]),
    replacements: z.array(replacementSchema).max(200).default([]),
  })
  .refine(lastPeriodCoversTheRest, {
    path: ['periods'],
    error: 'every row but the last has hours, and the last has none',
  })
  .refine((book) => isUnique(book.periods), { path: ['periods'], error: 'a code stands twice' })
  .refine((book) => isUnique(book.tasks), { path: ['tasks'], error: 'a code stands twice' })
  .refine((book) => isUnique(book.parts), { path: ['parts'], error: 'a code stands twice' })
  .refine((book) => isUnique(book.agreements), {
    path: ['agreements'],
    error: 'a code stands twice',
  })
  .refine(({ replacements }) => sizesAscend(replacements), {
    path: ['replacements'],
    error: 'the sizes of each kind must rise, and only its last row may hold any size',
  })
  .refine(({ parts, tiers }) => !parts.some(isMeasured) || !factorsRise(tiers), {
    path: ['tiers'],
    error: 'with goods sold by measure no factor may rise: more would cost more a unit',
  })
  .superRefine(({ parts }, context) => {
    for (const [at, part] of parts.entries()) {
      for (const { path, message } of goodsMistakes(part)) {
        context.addIssue({ code: 'custom', path: ['parts', at, ...path], message });
      }
    }
  });

export type BookContent = z.output<typeof bookContentSchema>;

export const newPriceBookSchema = bookContentSchema.safeExtend({ effectiveFrom: instant });

export const priceBookSchema = z.strictObject({
  id: z.uuid(),
  number: z.int().min(1),
  effectiveFrom: instant,
  publishedAt: instant,
  laborRateCents: cents.meta({ description: 'Per hour, derived from `rates`.' }),
  rates: rateInputsSchema,
  tiers: partTiersSchema,
  policy: policySchema,
  periods: z.array(schedulePeriodSchema),
  tasks: z.array(
    bookTaskSchema.extend({
      remedies: z
        .array(z.strictObject({ fault: faultCodeSchema, remedyClass: remedyClassSchema }))
        .meta({
          description: 'Which faults it mends and how; from the catalog, never from a hand.',
        }),
    }),
  ),
  parts: z.array(bookPartSchema),
  agreements: z.array(bookAgreementSchema),
  replacements: z.array(replacementSchema),
});

/** A price book in the list of them. */
export const priceBookHeadSchema = priceBookSchema.pick({
  id: true,
  number: true,
  effectiveFrom: true,
  publishedAt: true,
  laborRateCents: true,
});

const taxRuleFields = taxRuleSchema.extend({
  jurisdiction: code,
  name: text(200),
  rate: taxRuleSchema.shape.rate.refine((rate) => Number(rate) < 1, {
    error: 'a tax of the whole price or more is a slip of the decimal point',
  }),
  effectiveFrom: day,
  effectiveTo: day.optional().meta({ description: 'The first day it no longer holds.' }),
});

export const newTaxRuleSchema = taxRuleFields
  .extend({
    confirmPast: z.boolean().optional().meta({
      description:
        'Whether it is meant though it begins before today and invoices of its days stand already.',
    }),
  })
  .refine(
    ({ effectiveFrom, effectiveTo }) => effectiveTo === undefined || effectiveTo > effectiveFrom,
    { path: ['effectiveTo'], error: 'must be after effectiveFrom' },
  )
  .refine(
    ({ mode, separateAboveShare }) => mode === 'lump_sum' || separateAboveShare === undefined,
    {
      path: ['separateAboveShare'],
      error: 'only a lump sum is separated above a share; a separated price is already',
    },
  );

export const taxRuleAnswerSchema = taxRuleFields.extend({
  id: z.uuid(),
  separateAboveShare: shareSchema.nullable(),
  effectiveTo: day.nullable(),
});

function lastPeriodCoversTheRest({ periods }: { periods: { hours: unknown }[] }): boolean {
  return periods.every((period, at) => (period.hours === null) === (at === periods.length - 1));
}

/** In either case: BAT-2 beside bat-2 is a slip that nobody would see on a shelf. */
function isUnique(items: { code: string }[]): boolean {
  return new Set(items.map((item) => item.code.toLowerCase())).size === items.length;
}

function isMeasured({ measured }: { measured?: unknown }): boolean {
  return measured !== undefined;
}

function sizesAscend(rows: z.output<typeof replacementSchema>[]): boolean {
  return rows.every(({ kind, tonsUpTo }, at) => {
    const before = rows.slice(0, at).findLast((row) => row.kind === kind);
    if (before === undefined) return true;
    return before.tonsUpTo !== null && (tonsUpTo === null || tonsUpTo > before.tonsUpTo);
  });
}
