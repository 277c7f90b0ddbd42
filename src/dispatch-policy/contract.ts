import { z } from 'zod';
import { version } from '../platform/http/formats.ts';
import { placeSchema } from '../sites/index.ts';

/** An arrival window of any day, in minutes of the company's clock after midnight. */
export const arrivalWindowSchema = z
  .strictObject({
    startMinute: z.int().min(0).max(1_439),
    endMinute: z.int().min(15).max(1_440),
  })
  .refine(({ startMinute, endMinute }) => endMinute - startMinute >= 15, {
    path: ['endMinute'],
    error: 'must be at least 15 minutes after startMinute',
  });

const windows = z
  .array(arrivalWindowSchema)
  .min(1)
  .max(24)
  .refine((all) => new Set(all.map((each) => Object.values(each).join())).size === all.length, {
    error: 'holds the same window twice',
  })
  .meta({ description: 'The windows that are offered, on the company’s clock.' });

const roadFactor = z.number().min(1).max(5).meta({
  description: 'Miles of road for one mile as the crow flies.',
});
const mph = z.number().min(1).max(100);
const parkMinutes = z.int().min(0).max(120).meta({
  description: 'To park and walk in, once for every drive.',
});
const usualMinutes = z.int().min(5).max(1_440).meta({
  description: 'Of work for a call of which nothing else tells how long it takes.',
});
const base = placeSchema.nullable().meta({
  description: 'Where trucks set out that have no base of their own.',
});

/** Absent leaves a figure as it is; null takes the base away. */
export const dispatchPolicyChangeSchema = z.strictObject({
  roadFactor: roadFactor.optional(),
  mph: mph.optional(),
  parkMinutes: parkMinutes.optional(),
  usualMinutes: usualMinutes.optional(),
  windows: windows.optional(),
  base: base.optional(),
});

export const dispatchPolicySchema = z.strictObject({
  roadFactor,
  mph,
  parkMinutes,
  usualMinutes,
  windows,
  base,
  version,
});

/** How days are planned here. */
export type DispatchPolicy = z.output<typeof dispatchPolicySchema>;
