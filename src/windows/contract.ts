import { z } from 'zod';
import { cents, instant, plannableDay } from '../platform/http/formats.ts';
import { visitPurposeSchema } from '../visits/index.ts';

export const windowsQuerySchema = z.strictObject({
  from: plannableDay.meta({ description: 'The first local day.' }),
  days: z.coerce.number().int().min(1).max(14).default(3),
  technicianId: z.uuid().optional(),
  limit: z.coerce.number().int().min(1).max(50).default(10),
});

const minutes = z.int().min(0);

const offeredFeeSchema = z.strictObject({
  periodCode: z.string(),
  feeCents: cents.meta({ description: 'To be told, and booked with.' }),
  feeAfterDiscountCents: cents.meta({
    description: 'What the agreement of the site leaves of it.',
  }),
  sameTripAs: z.uuid().nullable().meta({
    description: 'The visit whose fee is that of the trip; this one has none then.',
  }),
});

/** One arrival window as it can be told, and booked. */
export const windowOfferSchema = z.strictObject({
  technicianId: z.uuid(),
  technicianName: z.string(),
  windowStart: instant,
  windowEnd: instant,
  planned: z.strictObject({ start: instant, minutes: z.int() }),
  travel: z.strictObject({
    thereMinutes: minutes.meta({ description: 'The drive there.' }),
    onMinutes: minutes.meta({ description: 'The drive from there.' }),
    addedMinutes: z.int().meta({ description: 'What the drive of the whole day grows by.' }),
    afterVisitId: z.uuid().nullable().meta({ description: 'Where it comes from; null: the base.' }),
    beforeVisitId: z
      .uuid()
      .nullable()
      .meta({ description: 'Where it goes on to; null: the base.' }),
  }),
  waitMinutes: minutes.meta({ description: 'Of the technician, at the door.' }),
  slackMinutes: minutes.meta({
    description:
      'By how much the work could begin later before this or another promise would break.',
  }),
  fee: offeredFeeSchema,
  why: z.string().meta({ description: 'What speaks for it, in a sentence.' }),
});

export const ticketWindowsSchema = z.strictObject({
  ticketId: z.uuid(),
  purpose: visitPurposeSchema.meta({ description: 'What it is to be booked for.' }),
  needs: z.array(z.string()).meta({ description: 'Skills, by the machines of the site.' }),
  work: z.strictObject({
    minutes: z.int(),
    basis: z.enum(['accepted_work', 'maintenance_schedule', 'likely_tasks', 'usual']),
    says: z.string().meta({ description: 'How the minutes came about.' }),
  }),
  placeIs: z.enum(['site', 'postal_code', 'base']).meta({
    description:
      'Whether travel is reckoned from the place of the site itself, or from what stands for it.',
  }),
  urgency: z.enum(['usual', 'soonest']).meta({
    description: 'By the priority of the ticket: of rank 1 and 2 the soonest is the best.',
  }),
  items: z.array(windowOfferSchema).meta({ description: 'The best first.' }),
  withoutBase: z.array(z.uuid()).meta({
    description:
      'Technicians of whom no travel can be reckoned, for nobody knows where they set out.',
  }),
});

export const runningLateQuerySchema = z.strictObject({
  minutes: z.coerce.number().int().min(0).max(1_440).default(0).meta({
    description: 'By how much this visit takes longer than planned.',
  }),
});

export const runningLateSchema = z.strictObject({
  visitId: z.uuid(),
  technicianId: z.uuid(),
  runsOverMinutes: minutes,
  items: z
    .array(
      z.strictObject({
        visitId: z.uuid(),
        ticketNumber: z.int(),
        windowStart: instant,
        windowEnd: instant,
        expectedAt: instant.meta({ description: 'As the day stands now.' }),
        expectedIfOverAt: instant,
        lateMinutes: minutes.meta({ description: 'Then, past the end of the promised window.' }),
        household: z.strictObject({
          name: z.string(),
          phone: z.string(),
          language: z.enum(['en', 'es']),
        }),
        message: z.string().nullable().meta({
          description: 'A draft for who would be late; it names no fault and no price.',
        }),
      }),
    )
    .meta({
      description: 'Where nobody has arrived yet, in the order of the day. No fee changes.',
    }),
});
