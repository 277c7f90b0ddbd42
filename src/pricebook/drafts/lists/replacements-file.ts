import type { z } from 'zod';
import { equipmentKindSchema } from '../../../trade/index.ts';
import { replacementSchema } from '../../contract.ts';
import { asDollars, asNumber, asOneOf } from './cell-form.ts';
import { column, type ListFile } from './list-file.ts';

/** What new machines typically cost; an empty size is the last row of its kind: any size. */
export const replacementsFile: ListFile<z.output<typeof replacementSchema>> = {
  columns: [
    column('kind', 'kind', asOneOf(equipmentKindSchema.options)),
    column('tons_up_to', 'tonsUpTo', asNumber),
    column('typical_price', 'typicalPriceCents', asDollars),
  ],
  schema: replacementSchema,
  rowsMax: 200,
  blank: { tonsUpTo: null },
};
