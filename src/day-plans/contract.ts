import { z } from 'zod';
import { leftOutReasons } from '../planning/index.ts';
import { cents, day, instant } from '../platform/http/formats.ts';
import { visitPurposeSchema } from '../visits/index.ts';

const plannedSchema = z.strictObject({ start: instant, minutes: z.int() });

const shiftedSchema = z.strictObject({
  visitId: z.uuid(),
  technicianId: z.uuid(),
  before: plannedSchema,
  planned: plannedSchema,
});

const reassignedSchema = z.strictObject({
  ...shiftedSchema.shape,
  technicianId: z.uuid().meta({ description: 'Who comes instead.' }),
  fromTechnicianId: z.uuid(),
});

const placedSchema = z.strictObject({
  ticketId: z.uuid(),
  technicianId: z.uuid(),
  windowStart: instant,
  windowEnd: instant,
  planned: plannedSchema,
});

/** What a plan proposes. */
export const planContentSchema = z.strictObject({
  shifted: z.array(shiftedSchema).meta({ description: 'Work moved inside its promised window.' }),
  reassigned: z
    .array(reassignedSchema)
    .meta({ description: 'The same window, another technician.' }),
  placed: z.array(placedSchema).meta({
    description: 'Waiting tickets for which there is room. They are not booked: call about them.',
  }),
  leftOut: z.array(
    z.strictObject({
      ticketId: z.uuid(),
      why: z.enum([...leftOutReasons, 'no_window']).meta({
        description: 'Nobody has the skill, or is near enough, or has the time; or no window fits.',
      }),
    }),
  ),
  late: z
    .array(z.strictObject({ visitId: z.uuid(), lateMinutes: z.int() }))
    .meta({ description: 'Promises that cannot be kept any more, late by as little as can be.' }),
  travelMinutes: z.strictObject({ before: z.int(), after: z.int() }),
  withoutBase: z.array(z.uuid()).meta({
    description: 'Technicians whose day was left as it is, for nobody knows where they set out.',
  }),
});
export type PlanContent = z.output<typeof planContentSchema>;

/** What a plan rests on. */
export const restsOnSchema = z.strictObject({
  visits: z.record(z.uuid(), z.int()).meta({ description: 'Of every live visit its version.' }),
  tickets: z.record(z.uuid(), z.int()).meta({ description: 'Of every ticket looked at.' }),
  hoursSha256: z.string(),
  policySha256: z.string(),
});
export type RestsOn = z.output<typeof restsOnSchema>;

export const changedSinceSchema = z.strictObject({
  kind: z.enum(['visit', 'ticket', 'hours', 'policy', 'time']),
  id: z.uuid().nullable(),
  what: z.enum(['new', 'changed', 'gone', 'passed']),
});
export type ChangedSince = z.output<typeof changedSinceSchema>;

export const dayPlanSchema = z.strictObject({
  id: z.uuid(),
  day,
  ...planContentSchema.shape,
  changedSince: z.array(changedSinceSchema).meta({
    description:
      'What it rests on and is otherwise by now; with any of it the plan cannot be used.',
  }),
  createdAt: instant,
  usedAt: instant.nullable(),
});

export const usedDayPlanSchema = z.strictObject({
  id: z.uuid(),
  usedAt: instant,
  visits: z.array(z.strictObject({ visitId: z.uuid(), movedFromId: z.uuid() })).meta({
    description: 'Booked with another technician, and in place of which visit.',
  }),
  placed: z.array(placedSchema).meta({
    description: 'Nobody of these is booked: `/offers` tells whom to call, and the fee to tell.',
  }),
});

/** Whom to call about the room that a plan has for them. */
export const planOffersSchema = z.strictObject({
  items: z.array(
    z.strictObject({
      ...placedSchema.shape,
      ticketNumber: z.int(),
      purpose: visitPurposeSchema,
      household: z.strictObject({
        name: z.string(),
        phone: z.string(),
        language: z.enum(['en', 'es']),
      }),
      fee: z.strictObject({
        periodCode: z.string(),
        feeCents: cents,
        feeAfterDiscountCents: cents,
        sameTripAs: z.uuid().nullable(),
      }),
    }),
  ),
});
