import { z } from 'zod';
import { cents, code, day, instant, text } from '../platform/http/formats.ts';
import {
  laborRateCents,
  partTiersSchema,
  periodSchema,
  policySchema,
  rateInputsSchema,
  taxRuleSchema,
} from '../pricing/index.ts';
import { partSchema, taskCodeSchema } from '../trade/index.ts';

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

export const bookPartSchema = z.strictObject({
  code: z.string().regex(/^[A-Za-z0-9][A-Za-z0-9._-]{0,59}$/, { error: 'a part code' }),
  name: text(120),
  costCents: cents,
  supplier: text(120).optional(),
  manufacturerWarranted: z.boolean().default(false).meta({
    description: 'The maker replaces it free of charge while the equipment’s warranty runs.',
  }),
  fit: partSchema,
});

export const newPriceBookSchema = z
  .strictObject({
    effectiveFrom: instant,
    rates: rateInputsSchema,
    tiers: partTiersSchema,
    policy: policySchema,
    periods: z.array(schedulePeriodSchema).min(1).max(20),
    tasks: z.array(bookTaskSchema).min(1).max(5_000),
    parts: z.array(bookPartSchema).max(50_000),
  })
  .refine(lastPeriodCoversTheRest, {
    path: ['periods'],
    error: 'every row but the last has hours, and the last has none',
  })
  .refine(({ rates }) => cents.safeParse(laborRateCents(rates)).success, {
    path: ['rates'],
    error: 'give a labor rate above twenty million dollars an hour',
  })
  .refine((book) => isUnique(book.periods), { path: ['periods'], error: 'a code stands twice' })
  .refine((book) => isUnique(book.tasks), { path: ['tasks'], error: 'a code stands twice' })
  .refine((book) => isUnique(book.parts), { path: ['parts'], error: 'a code stands twice' });

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
  tasks: z.array(bookTaskSchema),
  parts: z.array(bookPartSchema),
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

export const newTaxRuleSchema = taxRuleFields.refine(
  ({ effectiveFrom, effectiveTo }) => effectiveTo === undefined || effectiveTo > effectiveFrom,
  { path: ['effectiveTo'], error: 'must be after effectiveFrom' },
);

export const taxRuleAnswerSchema = taxRuleFields.extend({
  id: z.uuid(),
  effectiveTo: day.nullable(),
});

/** What the caller is told before anything is booked. */
export const visitFeeQuoteSchema = z.strictObject({
  windowStart: instant,
  periodCode: z.string(),
  feeCents: cents,
});

function lastPeriodCoversTheRest({ periods }: { periods: { hours: unknown }[] }): boolean {
  return periods.every((period, at) => (period.hours === null) === (at === periods.length - 1));
}

function isUnique(items: { code: string }[]): boolean {
  return new Set(items.map((item) => item.code)).size === items.length;
}
