import { z } from 'zod';
import { day, instant } from '../platform/http/formats.ts';

/** What a stream tells of one change; whoever shows a day that it names reads the board again. */
export const boardEventSchema = z.strictObject({
  position: z
    .int()
    .meta({ description: 'Its place in the sealed journal: the `id` of the event.' }),
  at: instant,
  event: z.string(),
  visitId: z.uuid().optional(),
  ticketId: z.uuid().optional(),
  technicianId: z.uuid().optional(),
  days: z.array(day).meta({
    description: 'Whose columns may be others; empty for what may show on the board of any day.',
  }),
});
export type BoardEventBody = z.infer<typeof boardEventSchema>;
