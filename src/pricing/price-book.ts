import { z } from 'zod';
import { compare, ratioOf, wholeRatio } from './ratio.ts';

/*
 * The owner's numbers, as they are stored and sent. Amounts are whole cents; shares, factors and
 * rates are decimal text, because a binary fraction cannot hold 0.0825.
 */

/** Up to six digits before and six after the point; no sign, no exponent. */
export const decimalSchema = z.string().regex(/^(0|[1-9]\d{0,5})(\.\d{1,6})?$/, {
  error: 'a decimal number such as 0.0825 or 1.5',
  // The checks below compute with the text, so they must not see one that is no number.
  abort: true,
});

/** A part of a whole, from '0' to '1'. */
export const shareSchema = decimalSchema.refine((text) => compareWithOne(text) <= 0, {
  error: 'a share from 0 to 1',
  abort: true,
});

/** Amounts of the book and the visit; larger ones are typing errors, not air conditioners. */
export const bookCentsSchema = z.int().min(0).max(100_000_000_000).brand<'Cents'>();

/** What an employer pays on top of a wage: a share of it, perhaps up to a yearly wage, or a sum. */
export const burdenSchema = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('share_of_wages'),
    name: z.string().min(1).max(120),
    share: shareSchema,
    /** The share is paid on the first wages of a year up to here; null on all of them. */
    onWagesUpToCents: bookCentsSchema.nullable(),
  }),
  z.strictObject({
    kind: z.literal('yearly_amount'),
    name: z.string().min(1).max(120),
    annualCents: bookCentsSchema,
  }),
]);
export type Burden = z.infer<typeof burdenSchema>;

/** A technician's wage by the hour with everything an employer pays on top of it. */
export const wageSchema = z.strictObject({
  hourlyCents: bookCentsSchema,
  /** Hours paid in a year, holidays and leave included. */
  annualPaidHours: z.int().min(1).max(8784),
  burden: z.array(burdenSchema).max(30),
});
export type Wage = z.infer<typeof wageSchema>;

const hourlyCarrySchema = z.strictObject({
  /** Paid hours less holidays and leave, per technician. */
  annualAvailableHours: z.int().min(1).max(8784),
  /** The share of the available hours that customers pay for. */
  billableFraction: shareSchema.refine(isAboveZero, 'a share above 0'),
  annualTruckCents: bookCentsSchema,
  /** Rent, office, advertising and so on, of the whole company. */
  annualOverheadCents: bookCentsSchema,
  technicianCount: z.int().min(1).max(100_000),
  /** The share of the price that is left after cost: margin is on price, never a markup on cost. */
  margin: shareSchema.refine((text) => compareWithOne(text) < 0, 'a margin below 1'),
});

/**
 * What a technician's billable hour has to carry. Yearly amounts are per technician but overhead.
 * The wage is given in its components or, from books that knew no components, as one sum.
 */
export const rateInputsSchema = z.union([
  hourlyCarrySchema.extend({ wage: wageSchema }),
  hourlyCarrySchema.extend({
    /** Wage with taxes, insurance and benefits, per technician. */
    annualBurdenedWageCents: bookCentsSchema,
  }),
]);
export type RateInputs = z.infer<typeof rateInputsSchema>;

/**
 * Selling price of a part by its unit cost. Progressive: each slice of the cost at its own factor,
 * like tax brackets. Flat: the whole cost at the factor of its step, lifted to the top price of
 * the steps below so that a dearer part never sells for less.
 */
export const partTiersSchema = z.strictObject({
  mode: z.enum(['progressive', 'flat']),
  steps: z
    .array(
      z.strictObject({
        /** Upper end of the step, included; null for the last one, which has no end. */
        upToCents: bookCentsSchema.nullable(),
        factor: decimalSchema.refine(
          (text) => compareWithOne(text) >= 0,
          'a factor of at least 1, never below cost',
        ),
      }),
    )
    .min(1)
    .max(20)
    .refine(stepsAscend, 'upper ends that rise, and null on the last step only'),
});
export type PartTiers = z.infer<typeof partTiersSchema>;

export const policySchema = z.strictObject({
  /** Off the labor of every task of a visit but the dearest. */
  secondTaskDiscount: shareSchema,
  /** Of the visit fee, given back when work is accepted. */
  visitFeeCreditShare: shareSchema,
  /** How far above its computed price a line may be adjusted without the owner. */
  fairBandTolerance: shareSchema,
  /** Looking for a cause up to here is within the visit fee; beyond it is a diagnose task. */
  causeSearchMinutes: z.int().min(0).max(1440),
  quoteValidityDays: z.int().min(1).max(366),
  /** For so long the same fault of the same system is mended again at no charge; see laborWarrantyDays. */
  laborWarrantyDays: z.int().min(0).max(3650).optional(),
});
export type Policy = z.infer<typeof policySchema>;

/** One row of the fee schedule: regular hours, evening, weekend. */
export const periodSchema = z.strictObject({
  code: z.string().min(1).max(64),
  visitFeeCents: bookCentsSchema,
  /** On labor and access of work in this period. */
  laborFactor: decimalSchema.refine(isAboveZero, 'a factor above 0'),
});
export type Period = z.infer<typeof periodSchema>;

export const chargeClassSchema = z.enum(['visit_fee', 'part', 'labor', 'access']);
export type ChargeClass = z.infer<typeof chargeClassSchema>;

/** How a tax rule looks at what is sold: a part, what is used up, or a whole new machine. */
export const goodsTaxClassSchema = z.enum(['part', 'material', 'equipment']);
export type GoodsTaxClass = z.infer<typeof goodsTaxClassSchema>;

export const taxClassSchema = z.enum([
  'visit_fee',
  'labor',
  'access',
  ...goodsTaxClassSchema.options,
]);
export type TaxClass = z.infer<typeof taxClassSchema>;

/** What goods sold by weight, length or volume are measured in, as UCUM codes. */
export const goodsUnitSchema = z.enum(['[lb_av]', '[oz_av]', '[ft_i]', '[in_i]', '[gal_us]']);
export type GoodsUnit = z.infer<typeof goodsUnitSchema>;

/** A quantity of measured goods: up to three digits after the point, above zero. */
export const measuredSchema = decimalSchema
  .refine((text) => (text.split('.')[1] ?? '').length <= 3, 'at most three digits after the point')
  .refine(isAboveZero, 'a quantity above 0');

/** A maintenance agreement as the book offers it: shares off by class of charge. */
export const agreementSchema = z.strictObject({
  code: z.string().min(1).max(64),
  name: z.string().min(1).max(120),
  discounts: z.partialRecord(chargeClassSchema, shareSchema),
});
export type Agreement = z.infer<typeof agreementSchema>;

export const taxRuleSchema = z.strictObject({
  jurisdiction: z.string().min(1).max(200),
  /** As it stands on the paper: 'Sales tax'. */
  name: z.string().min(1).max(200),
  /** State and local together. */
  rate: shareSchema,
  taxableClasses: z.array(taxClassSchema).max(6),
  /** Lump sum: the company pays tax on its materials, the customer pays none. */
  mode: z.enum(['separated', 'lump_sum']),
  /**
   * Lump sum only: an option whose parts, materials and equipment are more than this share of its
   * charges is stated and taxed separately after all.
   */
  separateAboveShare: shareSchema.optional(),
  /** Whether the tax is rounded line by line or once for the document. */
  basis: z.enum(['item', 'invoice']),
});
export type TaxRule = z.infer<typeof taxRuleSchema>;

function compareWithOne(text: string): number {
  return compare(ratioOf(text), wholeRatio(1));
}

function isAboveZero(text: string): boolean {
  return ratioOf(text).numerator > 0n;
}

function stepsAscend(steps: readonly { upToCents: number | null }[]): boolean {
  return steps.every((step, at) => {
    const isLast = at === steps.length - 1;
    if (step.upToCents === null || isLast) return isLast && step.upToCents === null;
    const before = steps[at - 1]?.upToCents ?? 0;
    return step.upToCents > before;
  });
}
