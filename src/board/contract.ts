import { z } from 'zod';
import { cents, day, instant, version } from '../platform/http/formats.ts';

const span = z.strictObject({ start: instant, end: instant });

/** Whom to call, and where it is. */
const householdSchema = z.strictObject({
  name: z.string(),
  phone: z.string(),
  street: z.string(),
  unit: z.string().nullable(),
  city: z.string(),
  hasAccessNotes: z.boolean().meta({ description: 'Gate, dog, attic: the site says what.' }),
});

export const boardVisitSchema = z.strictObject({
  visitId: z.uuid(),
  version: version.meta({ description: 'Of the visit; its ETag is `"v…"`.' }),
  ticketId: z.uuid(),
  ticketNumber: z.int(),
  siteId: z.uuid(),
  purpose: z.string(),
  state: z.string(),
  complaint: z.string().meta({ description: 'Its beginning.' }),
  symptoms: z.array(z.string()),
  household: householdSchema,
  window: span.meta({ description: 'What was promised.' }),
  planned: span,
  arrivedAt: instant.nullable(),
  openDangers: z
    .array(z.strictObject({ code: z.string(), since: instant, ticketId: z.uuid() }))
    .meta({
      description:
        'Told by phone of this home and not over, the first told first; `ticketId` is the call it ' +
        'was told on. Nobody goes in before the office was called. Empty once the visit is over.',
    }),
  expected: z
    .strictObject({
      arrival: instant,
      minutesLate: z.int().min(0).meta({ description: 'After the end of the window.' }),
    })
    .nullable()
    .meta({
      description:
        'Of a visit that nobody has arrived at; null where the day is over or no travel can be reckoned.',
    }),
  feeCents: cents,
  feeAfterDiscountCents: cents.meta({ description: 'What the caller was told remains of it.' }),
});

export const columnSchema = z.strictObject({
  technicianId: z.uuid(),
  name: z.string(),
  hours: z.array(span),
  onCall: z.array(span),
  absence: z.string().nullable().meta({ description: 'Why the hours are not those of the week.' }),
  visits: z.array(boardVisitSchema).meta({ description: 'In the order planned.' }),
});

export const waitingSchema = z.strictObject({
  ticketId: z.uuid(),
  ticketNumber: z.int(),
  siteId: z.uuid(),
  state: z.string(),
  rank: z.int().meta({ description: '1 comes first.' }),
  sentence: z.string().meta({ description: 'Why it stands where it stands.' }),
  waitingSince: instant,
  complaint: z.string().meta({ description: 'Its beginning.' }),
  symptoms: z.array(z.string()),
  household: householdSchema,
  part: z
    .strictObject({
      what: z.string(),
      promisedOn: day,
      isOverdue: z.boolean(),
      isHere: z.boolean().nullable().meta({
        description: 'Whether some place of ours has it; null for a part that no book lists.',
      }),
    })
    .nullable()
    .meta({ description: 'The part that it waits for.' }),
});

export const boardSchema = z.strictObject({
  day,
  timeZone: z.string(),
  columns: z.array(columnSchema),
  office: z
    .strictObject({
      waiting: z.array(waitingSchema).meta({ description: 'Most urgent first.' }),
      waitingCount: z.int().meta({ description: 'How many there are, listed or not.' }),
      callBacks: z.strictObject({ open: z.int(), overdue: z.int() }),
      maintenanceDue: z.int().meta({ description: 'Months listed as due; 100 and above: 100.' }),
    })
    .nullable()
    .meta({ description: 'What waits beside the columns; null for a technician.' }),
});

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
