import type { z } from 'zod';
import { chargeClassSchema } from '../../../pricing/index.ts';
import { bookAgreementSchema } from '../../contract.ts';
import { asDollars, asText, asWhole } from './cell-form.ts';
import { column, type ListFile } from './list-file.ts';

/** Maintenance agreements; an empty discount is none. */
export const agreementsFile: ListFile<z.output<typeof bookAgreementSchema>> = {
  columns: [
    column('code', 'code', asText),
    column('name', 'name', asText),
    column('annual_price', 'annualPriceCents', asDollars),
    column('visits_per_year', 'visitsPerYear', asWhole),
    ...chargeClassSchema.options.map((each) =>
      column(`discount_${each}`, `discounts.${each}`, asText),
    ),
  ],
  schema: bookAgreementSchema,
  rowsMax: 50,
  keyColumn: 'code',
  blank: { discounts: {} },
};
