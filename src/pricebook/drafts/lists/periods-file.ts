import { type SchedulePeriod, schedulePeriodSchema } from '../../contract.ts';
import { asDollars, asText, asTimeOfDay, asWeekdays } from './cell-form.ts';
import { column, type ListFile } from './list-file.ts';

/** The fee schedule in its order; the last row has no hours and covers the rest. */
export const periodsFile: ListFile<SchedulePeriod> = {
  columns: [
    column('code', 'code', asText),
    column('visit_fee', 'visitFeeCents', asDollars),
    column('labor_factor', 'laborFactor', asText),
    column('weekdays', 'hours.weekdays', asWeekdays),
    column('from', 'hours.from', asTimeOfDay),
    column('to', 'hours.to', asTimeOfDay),
  ],
  schema: schedulePeriodSchema,
  rowsMax: 20,
  keyColumn: 'code',
  blank: { hours: null },
};
