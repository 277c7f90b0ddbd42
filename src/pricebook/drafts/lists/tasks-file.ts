import type { z } from 'zod';
import { bookTaskSchema } from '../../contract.ts';
import { asText, asWhole } from './cell-form.ts';
import { column, type ListFile } from './list-file.ts';

export const tasksFile: ListFile<z.output<typeof bookTaskSchema>> = {
  columns: [
    column('code', 'code', asText),
    column('name', 'name', asText),
    column('minutes', 'minutes', asWhole),
    column('access_group', 'accessGroup', asText),
    column('access_minutes', 'accessMinutes', asWhole),
  ],
  schema: bookTaskSchema,
  rowsMax: 5_000,
  keyColumn: 'code',
  blank: {},
};
