import { z } from 'zod';
import type { MeasuredLabel } from '../words/measured-labels.ts';
import { unitSchema } from '../words/quantities.ts';

export const standingSchema = z.enum([
  'proven',
  'supported',
  'unproven',
  'contradicted',
  'not_applicable',
]);
export type Standing = z.infer<typeof standingSchema>;

export const directionSchema = z.enum(['for', 'against']);
export const weightSchema = z.enum(['indicative', 'decisive']);
export const outcomeSchema = z.enum([
  'met',
  'not_met',
  'undecided',
  'not_recorded',
  'not_applicable',
]);

/**
 * A value against its limit, as a paper draws it: allowed is from `low` to `high` (either may be
 * missing), the true value lies within `uncertainty` of `value`, all in `unit`.
 */
export const measurementSchema = z.strictObject({
  label: z.string(),
  value: z.number(),
  unit: unitSchema,
  uncertainty: z.number(),
  low: z.number().optional(),
  high: z.number().optional(),
  rated: z.number().optional(),
});
export type Measurement = z.infer<typeof measurementSchema>;

/** One that a rule draws now; a stored verdict may bear a name of its own time. */
export type DrawnMeasurement = Measurement & { label: MeasuredLabel };

/** One sign for or against a fault: what it says, and how the evidence stands to it. */
export const criterionSchema = z.strictObject({
  id: z.string(),
  statement: z.string(),
  direction: directionSchema,
  weight: weightSchema,
  outcome: outcomeSchema,
  detail: z.string(),
  readingIds: z.array(z.string()),
  observationIds: z.array(z.string()),
  measurement: measurementSchema.optional(),
});
export type Criterion = z.infer<typeof criterionSchema>;
export type Outcome = Criterion['outcome'];

/**
 * A criterion weighed, with what does not belong to the criterion itself: doubts to be named, and
 * whether its readings contradict each other so that it could not be weighed at all.
 */
export type Weighed = {
  criterion: Criterion;
  doubts: readonly string[];
  readingsDisagree: boolean;
};
