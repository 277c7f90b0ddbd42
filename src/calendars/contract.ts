import { z } from 'zod';
import { instant } from '../platform/http/formats.ts';

export const calendarFeedSchema = z.strictObject({
  id: z.uuid(),
  technicianId: z.uuid(),
  madeBy: z.strictObject({ staffId: z.uuid(), staffName: z.string() }),
  createdAt: instant,
  revokedAt: instant.nullable(),
});

export const madeCalendarFeedSchema = calendarFeedSchema.extend({
  url: z
    .string()
    .nullable()
    .meta({
      description:
        'What a calendar subscribes to. Whoever has it reads the calendar. It is told once, in the ' +
        'first answer, and stored nowhere: null when that answer is repeated.',
    }),
});
