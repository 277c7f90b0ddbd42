import { z } from 'zod';
import { centsSchema } from './cents.ts';
import {
  agreementSchema,
  bookCentsSchema,
  goodsTaxClassSchema,
  goodsUnitSchema,
  measuredSchema,
  partTiersSchema,
  periodSchema,
  policySchema,
  rateInputsSchema,
  taxRuleSchema,
} from './price-book.ts';

/** Codes and ids become parts of line keys, which a colon takes apart. */
const keyPartSchema = z
  .string()
  .max(100)
  .regex(/^[^\s:]+$/, 'a code or id without spaces and colons');

/**
 * What a task does to a fault; it comes from the catalog, never from a hand, and decides what may
 * be charged.
 */
export const remedyClassSchema = z.enum([
  'reset',
  'clean',
  'adjust',
  'repair',
  'replace',
  'accessory',
  'diagnose',
  'advise',
]);
export type RemedyClass = z.infer<typeof remedyClassSchema>;

export const partUseSchema = z.strictObject({
  code: keyPartSchema,
  name: z.string().min(1).max(200),
  unitCostCents: bookCentsSchema,
  quantity: z.int().min(1).max(10_000),
  underManufacturerWarranty: z.boolean(),
  /** `part` when absent. */
  taxClass: goodsTaxClassSchema.optional(),
});
export type PartUse = z.infer<typeof partUseSchema>;

/** Goods sold by weight, length or volume. Their cost is what a whole pack of the supplier costs. */
export const goodsUseSchema = z.strictObject({
  code: keyPartSchema,
  name: z.string().min(1).max(200),
  unit: goodsUnitSchema,
  quantity: measuredSchema,
  packCostCents: bookCentsSchema,
  packQuantity: measuredSchema,
  /** `part` when absent: a tax rule that knows no other class must not miss it. */
  taxClass: goodsTaxClassSchema.optional(),
});
export type GoodsUse = z.infer<typeof goodsUseSchema>;

/** One task that remedies one finding. */
export const workItemSchema = z.strictObject({
  findingId: keyPartSchema,
  /** Further findings that the same work mends: both sections of one dual capacitor, say. */
  alsoFindingIds: z.array(keyPartSchema).max(10).optional(),
  faultCode: keyPartSchema,
  taskCode: keyPartSchema,
  taskName: z.string().min(1).max(200),
  remedyClass: remedyClassSchema,
  systemId: keyPartSchema,
  minutes: z.int().min(0).max(100_000),
  /** Tasks of one group need the same way opened, which is charged once per system. */
  accessGroup: keyPartSchema,
  accessMinutes: z.int().min(0).max(100_000),
  parts: z.array(partUseSchema).max(200),
  goods: z.array(goodsUseSchema).max(200).optional(),
  /** The same fault of the same system came back within the labor warranty. */
  recall: z.boolean(),
});
export type WorkItem = z.infer<typeof workItemSchema>;

/** What a person adds by hand: always aimed at a line by its key, always with a reason. */
export const adjustmentSchema = z.strictObject({
  aimedAt: z.string().min(1).max(400),
  amountCents: centsSchema,
  reason: z.string().max(500),
  byOwner: z.boolean(),
});
export type Adjustment = z.infer<typeof adjustmentSchema>;

export const optionInputsSchema = z.strictObject({
  title: z.string().min(1).max(200),
  work: z.array(workItemSchema).max(200),
  adjustments: z.array(adjustmentSchema).max(200),
});
export type OptionInputs = z.infer<typeof optionInputsSchema>;

/** The fee as it was told at the call; a schedule that changed since does not touch it. */
export const visitFeeSchema = z.discriminatedUnion('chargeable', [
  z.strictObject({ chargeable: z.literal(true), amountCents: bookCentsSchema }),
  z.strictObject({ chargeable: z.literal(false), reason: z.string().min(1).max(200) }),
]);
export type VisitFee = z.infer<typeof visitFeeSchema>;

/**
 * What documents accepted earlier on the same visit have charged already, for a change order:
 * access is paid once per visit, system and group, and the dearest labor of a visit is one.
 */
export const earlierWorkSchema = z.strictObject({
  access: z
    .array(
      z.strictObject({
        systemId: keyPartSchema,
        accessGroup: keyPartSchema,
        minutes: z.int().min(0).max(100_000),
      }),
    )
    .max(200),
  /** Each charged labor line before its discounts. */
  labor: z
    .array(z.strictObject({ taskName: z.string().min(1).max(200), amountCents: bookCentsSchema }))
    .max(200),
});
export type EarlierWork = z.infer<typeof earlierWorkSchema>;

/** Everything a price depends on. Stored with every quote, so that it can be computed again. */
export const pricingInputsSchema = z.strictObject({
  rates: rateInputsSchema,
  tiers: partTiersSchema,
  policy: policySchema,
  /** The period of the accepted window. Its fee is not here: `visitFee` is what was told. */
  period: periodSchema.omit({ visitFeeCents: true }),
  visitFee: visitFeeSchema,
  tax: taxRuleSchema,
  /** The customer's maintenance agreement, when one is in force. */
  agreement: agreementSchema.optional(),
  earlierWork: earlierWorkSchema.optional(),
  options: z.array(optionInputsSchema).min(1).max(3),
});
export type PricingInputs = z.infer<typeof pricingInputsSchema>;
