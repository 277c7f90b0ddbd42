import { type PartTiers, partTiersSchema } from '../../../pricing/index.ts';
import { asDollars, asText } from './cell-form.ts';
import { column, type ListFile } from './list-file.ts';

/** The steps of the part tiers in their order; the last one has no upper end. */
export const tiersFile: ListFile<PartTiers['steps'][number]> = {
  columns: [column('up_to', 'upToCents', asDollars), column('factor', 'factor', asText)],
  schema: partTiersSchema.shape.steps.element,
  rowsMax: 20,
  blank: { upToCents: null },
};
