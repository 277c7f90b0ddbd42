import { z } from 'zod';
import { confidential } from '../platform/access/confidential.ts';
import { cents, day, instant, signedCents, text, version } from '../platform/http/formats.ts';
import { thousandthsOf } from './quantity.ts';

const inWhat =
  'In pieces, or in the unit of the price book for goods sold by measure: up to six digits before ' +
  'the point and, of measured goods, three after it.';

/** Decimal text without a sign, from zero on. */
const amountOfGoods = z.string().regex(/^(0|[1-9]\d{0,5})(\.\d{1,3})?$/, {
  error: 'is not a quantity such as 2 or 2.5',
  // The checks below compute with the text, so they must not see one that is no number.
  abort: true,
});

/** More than nothing. */
const quantity = amountOfGoods
  .refine(isNotZero, { error: 'must be above 0' })
  .meta({ description: inWhat });

/** Of a supplier's bill; what went back to the supplier is negative. */
const billedQuantity = z
  .string()
  .regex(/^-?(0|[1-9]\d{0,5})(\.\d{1,3})?$/, {
    error: 'is not a quantity such as 2, 2.5 or -1',
    abort: true,
  })
  .refine(isNotZero, { error: 'must not be 0', abort: true })
  .meta({ description: `${inWhat} Negative for what went back.` });

/** As answers say it: no superfluous zeros, perhaps below zero. */
const quantityText = z.string().regex(/^-?\d+(\.\d{1,3})?$/);

/** A part's code, as price books write it. */
export const partCode = z
  .string()
  .regex(/^[A-Za-z0-9][A-Za-z0-9._-]{0,59}$/, { error: 'is not a part code' });

const unit = z.string().nullable().meta({ description: 'Null for what is counted in pieces.' });

// ------------------------------------------------------------------ places

export const placeKind = z.enum(['shelves', 'truck']);

export const newPlaceSchema = z
  .strictObject({
    name: text(80),
    kind: placeKind,
    technicianId: z.uuid().optional().meta({ description: 'Whose truck it is; one each.' }),
  })
  .refine(({ kind, technicianId }) => kind === 'truck' || technicianId === undefined, {
    path: ['technicianId'],
    error: 'is for trucks: shelves are nobody’s',
  });

/** Absent leaves a field as it is; null takes the truck from its technician. */
export const placeChangeSchema = z.strictObject({
  name: text(80).optional(),
  technicianId: z.uuid().nullable().optional(),
});

export const placeSchema = z.strictObject({
  id: z.uuid(),
  name: z.string(),
  kind: placeKind,
  technicianId: z.uuid().nullable(),
  createdAt: instant,
});

export const listedPlaceSchema = placeSchema.extend({
  partsBelowZero: z.int().min(0).meta({
    description: 'Parts of which more were used than had been counted: count them again.',
  }),
});

// ------------------------------------------------------------------ targets

const targetOrder = {
  path: ['orderUpTo'],
  error: 'must be above reorderAt',
};

const newTargetFields = z.strictObject({
  partCode,
  reorderAt: amountOfGoods.meta({ description: 'At this level or under it, order again.' }),
  orderUpTo: amountOfGoods.meta({ description: 'How much should lie there then.' }),
});

export const newTargetSchema = newTargetFields.refine(ordersUpward, targetOrder);

export const targetChangeSchema = newTargetFields
  .omit({ partCode: true })
  .refine(ordersUpward, targetOrder);

export const targetSchema = z.strictObject({
  partCode: z.string(),
  reorderAt: quantityText,
  orderUpTo: quantityText,
  version,
});

// ------------------------------------------------------------------ stock and moves

export const stockSchema = z.strictObject({
  partCode: z.string(),
  name: z.string().meta({ description: 'By the latest price book that has the part.' }),
  unit,
  level: quantityText,
  target: targetSchema.omit({ partCode: true }).nullable(),
});

export const moveSchema = z.strictObject({
  id: z.uuid(),
  placeId: z.uuid(),
  partCode: z.string(),
  quantity: quantityText.meta({ description: 'Negative for what left the place.' }),
  kind: z.enum(['billed', 'used', 'brought_back', 'carried', 'counted']),
  billId: z.uuid().nullable(),
  visitId: z.uuid().nullable(),
  otherMoveId: z.uuid().nullable().meta({ description: 'The other half of what was carried.' }),
  reason: z.string().nullable(),
  movedAt: instant,
  recordedById: z.uuid(),
});

export const useSchema = z.strictObject({ visitId: z.uuid(), partCode, quantity });

export const carrySchema = z.strictObject({ toPlaceId: z.uuid(), partCode, quantity });

export const countSchema = z.strictObject({
  partCode,
  counted: amountOfGoods.meta({ description: `What lies there. ${inWhat}` }),
  reason: text(500).meta({ description: 'Why it was counted, and what explains a difference.' }),
});

const level = quantityText.meta({ description: 'What should lie there now.' });

export const movedSchema = z.strictObject({ move: moveSchema, level });

export const carriedSchema = z.strictObject({ from: movedSchema, to: movedSchema });

export const countedSchema = z.strictObject({
  move: moveSchema.nullable().meta({ description: 'Null when the count found what should be.' }),
  level,
});

// ------------------------------------------------------------------ suppliers' bills

export const newBillLineSchema = z
  .strictObject({
    partCode: partCode.optional().meta({
      description: 'Of the price book in force. A line without one is no part of the book.',
    }),
    description: text(200).optional().meta({
      description: 'As the bill has it; the name in the price book when absent.',
    }),
    quantity: billedQuantity,
    amountCents: signedCents.meta({
      description: 'Of the whole line, before freight and tax; negative for what went back.',
    }),
  })
  .refine((line) => line.partCode !== undefined || line.description !== undefined, {
    path: ['description'],
    error: 'is needed where there is no part code',
  })
  .refine((line) => line.amountCents === 0 || line.amountCents > 0 === isAbove(line.quantity), {
    path: ['amountCents'],
    error: 'must have the sign of the quantity: what goes back is negative in both',
  });

export const newBillSchema = z.strictObject({
  supplier: text(120),
  number: text(60),
  billedOn: day,
  placeId: z.uuid().meta({ description: 'Where the goods went.' }),
  lines: z.array(newBillLineSchema).min(1).max(1_000),
  otherCents: signedCents.default(0).meta({ description: 'Freight, tax and the like together.' }),
  totalCents: signedCents.meta({ description: 'As the bill states it.' }),
});
export type NewBill = z.output<typeof newBillSchema>;

const pack = z.string().nullable().meta({
  description: 'How much a pack holds, where costs are by pack; null where they are by piece.',
});

const billedUnitCost = {
  unit,
  packQuantity: pack,
  billedCents: cents.meta({ description: 'A piece or a pack by this line.' }),
};

const besideTheBook = z.strictObject({
  bookCents: confidential(
    cents.meta({ description: 'A piece or a pack by the price book in force.' }),
    'cost',
  ),
  differenceCents: confidential(
    z.int().meta({ description: 'Positive when the bill is dearer.' }),
    'cost',
  ),
  differencePercent: confidential(
    z
      .string()
      .nullable()
      .meta({ description: 'Of the book’s cost, to one digit; null when that is zero.' }),
    'cost',
  ),
});

/** The book's costs are the owner's alone, so to the office a line says what the bill charged. */
const unitCostSchema = z
  .strictObject({ ...billedUnitCost, ...besideTheBook.partial().shape })
  .meta({ description: 'What the book says stands here for the owner only.' });

export const billSchema = z.strictObject({
  id: z.uuid(),
  supplier: z.string(),
  number: z.string(),
  billedOn: day,
  placeId: z.uuid(),
  otherCents: signedCents,
  totalCents: signedCents,
  recordedAt: instant,
  recordedById: z.uuid(),
  lines: z.array(
    z.strictObject({
      position: z.int().min(1),
      partCode: z.string().nullable(),
      description: z.string(),
      quantity: quantityText,
      amountCents: signedCents,
      unitCost: unitCostSchema.nullable().meta({
        description:
          'Null for what the price book in force does not have, and where its pack would come to ' +
          'more than the book can hold: the bill then counted another pack.',
      }),
    }),
  ),
});

export const billHeadSchema = billSchema.omit({ lines: true });

export const loadedBillsSchema = z.strictObject({ bills: z.array(billSchema) });

export const costChangeSchema = z.strictObject({
  partCode: z.string(),
  name: z.string(),
  ...billedUnitCost,
  ...besideTheBook.shape,
  bill: billHeadSchema.pick({ id: true, supplier: true, number: true, billedOn: true }),
});

// ------------------------------------------------------------------ what to order

/** The book's costs are the owner's alone: the office orders without them. */
const atTheBook = {
  costCents: confidential(
    z
      .int()
      .min(0)
      .nullable()
      .optional()
      .meta({
        description:
          'At the cost of the price book in force, for the owner only; null when it is beyond what a ' +
          'number can hold to the cent, because a target and a pack cannot both be meant.',
      }),
    'cost',
  ),
};

const toOrder = {
  quantity: quantityText.meta({ description: 'Pieces, or whole packs in the book’s unit.' }),
  packs: z.int().min(1).nullable().meta({ description: 'Null for what is counted in pieces.' }),
  ...atTheBook,
};

const reorderPlace = {
  placeId: z.uuid(),
  placeName: z.string(),
  level: quantityText,
  reorderAt: quantityText,
  orderUpTo: quantityText,
};

export const reorderListSchema = z.strictObject({
  suppliers: z.array(
    z.strictObject({
      supplier: z.string().nullable().meta({ description: 'Null where the book names none.' }),
      ...atTheBook,
      parts: z.array(
        z.strictObject({
          partCode: z.string(),
          name: z.string(),
          unit,
          packQuantity: pack,
          ...toOrder,
          places: z.array(z.strictObject({ ...reorderPlace, ...toOrder })),
        }),
      ),
    }),
  ),
  notInBook: z
    .array(z.strictObject({ partCode: z.string(), ...reorderPlace }))
    .meta({ description: 'Under their reorder point, but no part of the book in force.' }),
});
export type ReorderList = z.infer<typeof reorderListSchema>;

function isNotZero(quantity: string): boolean {
  return thousandthsOf(quantity) !== 0n;
}

function isAbove(quantity: string): boolean {
  return thousandthsOf(quantity) > 0n;
}

function ordersUpward(target: { reorderAt: string; orderUpTo: string }): boolean {
  return thousandthsOf(target.orderUpTo) > thousandthsOf(target.reorderAt);
}
