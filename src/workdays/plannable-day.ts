import { day } from '../platform/http/formats.ts';

/** A local day that may be planned; a day beyond it is a slip in the year. */
export const plannableDay = day.refine((text) => text < '2200', {
  error: 'is years ahead: look at the year',
});
