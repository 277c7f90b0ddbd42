import { z } from 'zod';
import { type RateInputs, rateInputsSchema, type Wage } from '../pricing/index.ts';
import { rateIsPayable } from './rate-is-payable.ts';

const [withWage, withSum] = rateInputsSchema.options;

// The two forms of a wage stand in one object here, so that a slip in any field is named by that
// field instead of "none of the expected forms".
const sentRatesSchema = withWage
  .extend({
    wage: withWage.shape.wage.optional().meta({
      description: 'The wage in its components; or else `annualBurdenedWageCents`.',
    }),
    annualBurdenedWageCents: withSum.shape.annualBurdenedWageCents.optional().meta({
      description: 'Wage with taxes, insurance and benefits, per technician, as one sum.',
    }),
  })
  .refine((rates) => (rates.wage === undefined) !== (rates.annualBurdenedWageCents === undefined), {
    path: ['wage'],
    error: 'give either the wage in its components or its yearly sum',
  })
  .refine(({ wage, annualAvailableHours }) => !wage || arePaid(annualAvailableHours, wage), {
    path: ['annualAvailableHours'],
    error: 'must not be more than wage.annualPaidHours: nobody works hours that are not paid',
  });

/** The rates as the owner sends them, read into the form in which the book keeps them. */
export const ratesSchema = z
  .codec(sentRatesSchema, rateInputsSchema, {
    decode: ratesOf,
    encode: (rates) => sentRatesSchema.parse(rates),
  })
  .refine(rateIsPayable, { error: 'give a labor rate above twenty million dollars an hour' });

/** No paid hours at all are a mistake of their own, which is told once. */
function arePaid(hours: number, { annualPaidHours }: Wage): boolean {
  return annualPaidHours < 1 || hours <= annualPaidHours;
}

function ratesOf({
  wage,
  annualBurdenedWageCents,
  ...carry
}: z.output<typeof sentRatesSchema>): RateInputs {
  if (wage !== undefined) return { ...carry, wage };
  if (annualBurdenedWageCents !== undefined) return { ...carry, annualBurdenedWageCents };
  throw new Error('the schema asks for a wage in one of two forms');
}
