import { z } from 'zod';
import { day, instant } from '../platform/http/formats.ts';

/** A month of the calendar, as `2026-06`. */
export const monthSchema = z
  .string()
  .regex(/^(19|[2-9]\d)\d{2}-(0[1-9]|1[0-2])$/, { error: 'is no month, such as 2026-06' });

const months = z
  .array(z.int().min(1).max(12))
  .min(1)
  .max(12)
  .transform((all) => [...new Set(all)].sort((one, other) => one - other))
  .meta({ description: 'In which maintenance is due every year; 1 is January.' });
const minutes = z.int().min(5).max(1_440).meta({ description: 'Of work, each time.' });

export const newScheduleSchema = z.strictObject({ months, minutes });

export const scheduleSchema = z.strictObject({
  agreementId: z.uuid(),
  months: z.array(z.int()),
  minutes: z.int().nullable(),
  version: z.int().min(0).meta({ description: '0 while no months are set.' }),
});

export const dueMaintenanceSchema = z.strictObject({
  agreementId: z.uuid(),
  planCode: z.string(),
  dueMonth: monthSchema,
  overdue: z.boolean().meta({ description: 'The month is over, by the company’s calendar.' }),
  monthsBehind: z
    .int()
    .min(0)
    .meta({
      description:
        'How many months of the agreement are over and undone. Of them this one alone is listed; ' +
        'each is owed, and a ticket can be opened for each.',
    }),
  agreementEnded: z.boolean().meta({
    description: 'The agreement is over; what was paid for under it is owed for 90 days more.',
  }),
  minutes: z.int(),
  siteId: z.uuid(),
  street: z.string(),
  city: z.string(),
  occupant: z.strictObject({
    id: z.uuid(),
    name: z.string(),
    phone: z.string(),
    language: z.string(),
  }),
});

export const newMaintenanceSchema = z.strictObject({
  agreementId: z.uuid(),
  dueMonth: monthSchema,
});

export const baselineSchema = z.strictObject({
  systemId: z.uuid(),
  readings: z.array(
    z.strictObject({
      equipmentId: z.uuid(),
      equipmentKind: z.string(),
      point: z.string(),
      quantity: z.string(),
      value: z.number(),
      unit: z.string(),
      phase: z.enum(['found', 'left']).meta({
        description: '`left` is after the work of that visit.',
      }),
      takenAt: instant,
      visitId: z.uuid(),
      day: day.meta({ description: 'Of the arrival, on the company’s calendar.' }),
    }),
  ),
});
