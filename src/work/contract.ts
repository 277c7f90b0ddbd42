import { z } from 'zod';
import { day, instant, text } from '../platform/http/formats.ts';

/** More than nothing, in the unit that the price book sells it by. */
const measured = z
  .string()
  .regex(/^(0|[1-9]\d{0,5})(\.\d{1,3})?$/, { error: 'is not a quantity such as 2 or 2.5' })
  .refine((value) => /[1-9]/.test(value), { error: 'must be above 0' });

const partCode = text(60);

const oneMeasure = {
  path: ['quantity'],
  error: 'give either a quantity of pieces or what was measured',
};

function isOneMeasure(of: { quantity?: unknown; measured?: unknown }): boolean {
  return (of.quantity === undefined) !== (of.measured === undefined);
}

export const outcomeSchema = z.enum(['done', 'not_done']);

export const newOutcomeSchema = z
  .strictObject({
    quoteId: z.uuid().meta({ description: 'The accepted quote that sells the work.' }),
    findingId: z.uuid(),
    outcome: outcomeSchema,
    reason: text(1_000).optional().meta({ description: 'Why not; exactly when not done.' }),
  })
  .refine(({ outcome, reason }) => outcome !== 'not_done' || reason !== undefined, {
    path: ['reason'],
    error: 'is missing: say why the work was not done',
  })
  .refine(({ outcome, reason }) => outcome === 'not_done' || reason === undefined, {
    path: ['reason'],
    error: 'is for work that was not done: leave it out, or record `not_done`',
  });

/** What was written down wrongly stays readable and counts nowhere. */
const struck = z
  .strictObject({ reason: z.string(), struckAt: instant, struckById: z.uuid() })
  .nullable()
  .meta({ description: 'Why it was struck out, when it was. It counts nowhere then.' });

export const workOutcomeSchema = z.strictObject({
  id: z.uuid(),
  visitId: z.uuid(),
  quoteId: z.uuid(),
  findingId: z.uuid(),
  outcome: outcomeSchema,
  reason: z.string().nullable(),
  laborWarrantyUntil: day.nullable().meta({
    description:
      'The last day on which the same fault of the same system is mended again for nothing.',
  }),
  recordedById: z.uuid(),
  recordedAt: instant,
  struck,
});

/**
 * What became of the part that came out. It is the customer's, so it is offered to them
 * (California Business and Professions Code 7159.14); one that its maker wants back is kept.
 */
export const oldPartSchema = z.enum([
  'given_to_customer',
  'customer_did_not_want_it',
  'kept_for_claim',
  'none',
]);

export const strikeSchema = z.strictObject({
  reason: text(1_000).meta({ description: 'What is wrong with the record.' }),
});

export const newPartUseSchema = z
  .strictObject({
    quoteId: z.uuid().meta({ description: 'The accepted quote that sells the part.' }),
    findingId: z.uuid(),
    partCode,
    quantity: z.int().min(1).max(10_000).optional().meta({ description: 'Of pieces.' }),
    measured: measured.optional().meta({ description: 'Of goods sold by measure.' }),
    serial: text(80).optional(),
    oldPart: oldPartSchema.meta({
      description: 'An old part is offered to the customer; `none` where nothing came out.',
    }),
    oldSerial: text(80).optional(),
    stockPlaceId: z.uuid().optional().meta({
      description: 'Where it was taken from; the stock there goes down with it.',
    }),
  })
  .refine(isOneMeasure, oneMeasure);

export const newPartLeftOverSchema = z
  .strictObject({
    quoteId: z.uuid().meta({ description: 'The accepted quote that sells the part.' }),
    findingId: z.uuid(),
    partCode,
    quantity: z.int().min(1).max(10_000).optional().meta({ description: 'Of pieces.' }),
    measured: measured.optional().meta({ description: 'Of goods sold by measure.' }),
    reason: text(1_000).meta({ description: 'Why it was not needed.' }),
  })
  .refine(isOneMeasure, oneMeasure);

export const partLeftOverSchema = z.strictObject({
  id: z.uuid(),
  visitId: z.uuid(),
  quoteId: z.uuid(),
  findingId: z.uuid(),
  partCode: z.string(),
  quantity: z.int().nullable(),
  measured: z.string().nullable(),
  reason: z.string(),
  recordedById: z.uuid(),
  recordedAt: instant,
  struck,
});

export const partUseSchema = z.strictObject({
  id: z.uuid(),
  visitId: z.uuid(),
  quoteId: z.uuid(),
  findingId: z.uuid(),
  partCode: z.string(),
  quantity: z.int().nullable(),
  measured: z.string().nullable(),
  serial: z.string().nullable(),
  oldPart: oldPartSchema,
  oldSerial: z.string().nullable(),
  recordedById: z.uuid(),
  recordedAt: instant,
  struck,
});

/** A part that was struck out, and what lies where it was taken from again. */
export const struckPartUseSchema = partUseSchema.extend({
  stock: z.strictObject({
    broughtBack: z
      .string()
      .meta({ description: 'How much of it lies where it was taken from again.' }),
    whyNoMore: z
      .enum(['counted_since', 'back_already', 'not_taken_from_stock'])
      .nullable()
      .meta({
        description:
          'Why not all of it: the place was counted since, so the count has it; somebody brought it ' +
          'back by hand; or it is not on record where it was taken from. If it lies there all the ' +
          'same, count it.',
      }),
  }),
});

/** Of a cylinder on the scale, to a tenth of an ounce. */
const weightOz = z
  .string()
  .regex(/^(0|[1-9]\d{0,4})(\.\d)?$/, { error: 'is not a weight in ounces such as 384 or 384.5' });

/** What was taken out is recovered: letting it into the air is against 40 CFR 82.154. */
export const directionSchema = z.enum(['charged', 'recovered']);

export const newRefrigerantMoveSchema = z
  .strictObject({
    equipmentId: z.uuid().meta({ description: 'The machine whose nameplate names it.' }),
    refrigerant: text(20).meta({ description: 'As on the cylinder, such as R-410A.' }),
    direction: directionSchema,
    cylinder: text(80).meta({ description: 'Its number.' }),
    beforeOz: weightOz.meta({ description: 'The cylinder’s weight before.' }),
    afterOz: weightOz.meta({ description: 'The cylinder’s weight after.' }),
    movedAt: instant.optional().meta({ description: 'Now when absent.' }),
  })
  .refine(hasRightWay, {
    path: ['afterOz'],
    error: 'a cylinder gets lighter by charging and heavier by recovering',
  });

export const refrigerantMoveSchema = z.strictObject({
  id: z.uuid(),
  visitId: z.uuid(),
  equipmentId: z.uuid(),
  refrigerant: z.string(),
  direction: directionSchema,
  cylinder: z.string(),
  beforeOz: z.string(),
  afterOz: z.string(),
  movedOz: z.string().meta({ description: 'How much went in or came out.' }),
  certificateType: z.string().meta({ description: 'Of whoever recorded it, as it was then.' }),
  certificateNumber: z.string(),
  movedAt: instant,
  recordedById: z.uuid(),
  recordedAt: instant,
  struck,
});

export const visitWorkSchema = z.strictObject({
  outcomes: z.array(workOutcomeSchema),
  partUses: z.array(partUseSchema),
  partsLeftOver: z.array(partLeftOverSchema),
  refrigerantMoves: z.array(refrigerantMoveSchema),
});

export const complaintGoneSchema = z.enum(['yes', 'no', 'not_tried']);

export const closeTicketSchema = z.strictObject({
  complaintGone: complaintGoneSchema,
  noReadingsWhy: text(1_000).optional().meta({
    description: 'Why nothing was measured or seen after the work.',
  }),
  conditionLeft: text(1_000).meta({ description: 'What was left in what condition.' }),
  dangerWarned: text(1_000).optional(),
  didNotCure: z
    .array(z.uuid())
    .max(50)
    .default([])
    .meta({
      description:
        'Findings that were mended on this ticket and did not cure. What that cost is credited ' +
        'toward what was accepted after it, once both are billed.',
    }),
});

export const reopenTicketSchema = z.strictObject({
  complaint: text(2_000).meta({ description: 'In the caller’s words.' }),
});

/** One time a ticket was closed, and the call that it did not stay so. */
export const closingSchema = z.strictObject({
  id: z.uuid(),
  sequence: z.int(),
  complaintGone: complaintGoneSchema,
  noReadingsWhy: z.string().nullable(),
  conditionLeft: z.string(),
  dangerWarned: z.string().nullable(),
  didNotCure: z.array(z.uuid()),
  closedAt: instant,
  closedById: z.uuid(),
  callback: z
    .strictObject({ complaint: z.string(), reopenedAt: instant, reopenedById: z.uuid() })
    .nullable(),
});

function hasRightWay(move: {
  direction: z.output<typeof directionSchema>;
  beforeOz: string;
  afterOz: string;
}): boolean {
  const [before, after] = [Number(move.beforeOz), Number(move.afterOz)];
  return move.direction === 'charged' ? before > after : after > before;
}
