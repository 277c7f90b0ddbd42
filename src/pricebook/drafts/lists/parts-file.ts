import type { z } from 'zod';
import { partCategorySchema, partSchema } from '../../../trade/index.ts';
import { bookPartSchema } from '../../contract.ts';
import { goodsMistakes } from '../../goods-mistakes.ts';
import { asDollars, asNumber, asOneOf, asText, asUnit, type CellForm } from './cell-form.ts';
import { type Column, column, type ListFile } from './list-file.ts';

/**
 * Parts with the figures that decide whether they fit, a column for each figure that any category
 * has. `cost` is of one piece or, where `unit` and `pack_quantity` are filled in, of one pack.
 */
export const partsFile: ListFile<z.output<typeof bookPartSchema>> = {
  columns: [
    column('code', 'code', asText),
    column('name', 'name', asText),
    column('cost', 'costCents', asDollars),
    column('tax_class', 'taxClass', asText),
    column('warranty_class', 'warrantyClass', asText),
    column('supplier', 'supplier', asText),
    column('unit', 'measured.unit', asUnit),
    column('pack_quantity', 'measured.packQuantity', asText),
    column('category', 'fit.category', asOneOf(partCategorySchema.options)),
    ...specColumns(),
  ],
  // What the book as a whole would refuse of a single part, at its line.
  schema: bookPartSchema.superRefine((part, context) => {
    for (const { path, message } of goodsMistakes(part)) {
      context.addIssue({ code: 'custom', path, message });
    }
  }),
  rowsMax: 50_000,
  keyColumn: 'code',
  blank: { fit: { specs: {} } },
};

function specColumns(): Column[] {
  const forms = new Map<string, CellForm>();
  for (const { shape } of partSchema.options) {
    for (const [name, schema] of Object.entries(shape.specs.shape)) {
      forms.set(name, schema.safeParse(1).success ? asNumber : asText);
    }
  }
  return [...forms].map(([name, form]) => column(snakeCase(name), `fit.specs.${name}`, form));
}

/** voltsMax -> volts_max */
function snakeCase(name: string): string {
  return name.replace(/[A-Z]/g, (letter) => `_${letter.toLowerCase()}`);
}
