import { z } from 'zod';
import { cents, day, instant, text, version } from '../platform/http/formats.ts';
import { agreementSchema, shareSchema } from '../pricing/index.ts';

export const visitStateSchema = z.enum([
  'booked',
  'on_the_way',
  'on_site',
  'finished',
  'no_access',
  'cancelled',
]);

/** What a trip is for. Only a trip that was called for has a fee. */
export const visitPurposeSchema = z.enum(['call', 'return', 'callback', 'maintenance']);
export type VisitPurpose = z.infer<typeof visitPurposeSchema>;

/** Nobody can promise an arrival to the minute; a shorter window is a slip. */
const WINDOW_MINUTES_MIN = 15;
const WINDOW_MINUTES_MAX = 24 * 60;

/** Several windows of one technician may overlap; planned work never does. */
export const plannedWorkSchema = z.strictObject({
  start: instant,
  minutes: z.int().min(5).max(WINDOW_MINUTES_MAX),
});

const feeDisclosureSchema = z
  .strictObject({
    toldFeeCents: cents.meta({ description: 'The visit fee the caller was told.' }),
    toldFeeAfterDiscountCents: cents.optional().meta({
      description: 'What the caller was told remains of it under the agreement of the site.',
    }),
    agreedBy: text(200).meta({ description: 'Who said yes to it at the call.' }),
  })
  .meta({ description: 'The only charge that rests on less than a finding rests on this.' });

const windowTooShort = {
  path: ['windowEnd'],
  error: `must be at least ${WINDOW_MINUTES_MIN} minutes after windowStart`,
};
const windowTooLong = { path: ['windowEnd'], error: 'must be within a day of windowStart' };
const startOutside = { path: ['planned', 'start'], error: 'must lie in the arrival window' };

export const newVisitSchema = z
  .strictObject({
    ticketId: z.uuid(),
    technicianId: z.uuid(),
    windowStart: instant.meta({
      description: 'The window is the promise: somebody arrives in it.',
    }),
    windowEnd: instant,
    planned: plannedWorkSchema.optional().meta({
      description: 'When the work is planned; the whole window when absent.',
    }),
    purpose: visitPurposeSchema.default('call').meta({
      description:
        'A return does work that was accepted, a callback looks at a reopened ticket, maintenance is ' +
        'due under an agreement; the fee told for each of these is 0.',
    }),
    feeDisclosure: feeDisclosureSchema,
  })
  .refine((visit) => minutesOf(visit) >= WINDOW_MINUTES_MIN, windowTooShort)
  .refine((visit) => minutesOf(visit) <= WINDOW_MINUTES_MAX, windowTooLong)
  .refine(startsInItsWindow, startOutside);

/** A visit booked anew in place of another: what is not named stays as it was. */
export const rebookingSchema = z
  .strictObject({
    technicianId: z.uuid().optional(),
    windowStart: instant.optional().meta({
      description: 'Another window comes whole: start, end, who agreed to it, and its fee.',
    }),
    windowEnd: instant.optional(),
    planned: plannedWorkSchema.optional().meta({
      description:
        'When the work is planned. When absent: in another window the whole of it, in the same one ' +
        'as it was.',
    }),
    askedBy: z.enum(['customer', 'company']).meta({
      description:
        'What the company asks for never costs more than before; what the customer asks for has the ' +
        'fee of the new window.',
    }),
    windowAgreedBy: text(200).optional().meta({
      description: 'Who agreed for the customer to the other window.',
    }),
    feeDisclosure: feeDisclosureSchema.optional(),
    reason: text(1_000),
  })
  .refine(
    ({ windowStart, windowEnd, windowAgreedBy, feeDisclosure }) =>
      [windowEnd, windowAgreedBy, feeDisclosure].every((each) => !each === !windowStart),
    {
      path: ['windowStart'],
      error: 'comes with windowEnd, windowAgreedBy and feeDisclosure, or none of them comes',
    },
  )
  .refine((visit) => !isWhole(visit) || minutesOf(visit) >= WINDOW_MINUTES_MIN, windowTooShort)
  .refine((visit) => !isWhole(visit) || minutesOf(visit) <= WINDOW_MINUTES_MAX, windowTooLong)
  .refine((visit) => !isWhole(visit) || startsInItsWindow(visit), startOutside);

/** The work of a visit planned anew, inside the window that was promised. */
export const newPlanSchema = z.strictObject({ planned: plannedWorkSchema });

/** What the customer was told about a part that has to come. */
export const partPromiseSchema = z.strictObject({
  what: text(200).meta({ description: 'In plain words, such as: the blower motor.' }),
  partCode: text(60).optional().meta({ description: 'Where the price book has the part.' }),
  promisedOn: day.meta({ description: 'The day by which it was promised to be here.' }),
  toldTo: text(200).meta({ description: 'Who was told so.' }),
});

/** How the ticket goes on after a finished visit. */
export const visitEndSchema = z
  .strictObject({
    ticketIs: z.enum(['work_complete', 'waiting_for_answer', 'waiting_for_part']),
    waitingFor: partPromiseSchema.optional().meta({
      description: 'What it waits for; exactly when it is waiting for a part.',
    }),
  })
  .refine(({ ticketIs, waitingFor }) => ticketIs !== 'waiting_for_part' || waitingFor, {
    path: ['waitingFor'],
    error: 'is missing: say what it waits for, until when, and who was told so',
  })
  .refine(({ ticketIs, waitingFor }) => ticketIs === 'waiting_for_part' || !waitingFor, {
    path: ['waitingFor'],
    error: 'is for a ticket that waits for a part: leave it out',
  });

export const promisedPartSchema = z.strictObject({
  id: z.uuid(),
  ticketId: z.uuid(),
  visitId: z.uuid().nullable().meta({ description: 'The visit that ended with it.' }),
  what: z.string(),
  partCode: z.string().nullable(),
  promisedOn: day,
  toldTo: z.string(),
  recordedAt: instant,
});

/** A ticket that waits for a part. */
export const partWaitSchema = z.strictObject({
  ticketId: z.uuid(),
  ticketNumber: z.int(),
  siteId: z.uuid(),
  promise: promisedPartSchema.nullable().meta({ description: 'The latest; null for none.' }),
  overdue: z.boolean().meta({
    description: 'The day promised is over, by the company’s calendar; or there is none.',
  }),
  occupant: z
    .strictObject({ name: z.string(), phone: z.string() })
    .meta({ description: 'Whom to call.' }),
  returnBookedFor: instant
    .nullable()
    .meta({ description: 'The start of the window of the return.' }),
  late: z.boolean().meta({ description: 'The return is booked for after the day promised.' }),
});

export const visitReasonSchema = z.strictObject({ reason: text(1_000) });

/** By which plan the fee was told, and the share that the plan took off it then. */
export const feeAgreementSchema = z.strictObject({
  code: agreementSchema.shape.code,
  name: agreementSchema.shape.name,
  share: shareSchema,
});
export type FeeAgreement = z.infer<typeof feeAgreementSchema>;

export const visitSchema = z.strictObject({
  id: z.uuid(),
  ticketId: z.uuid(),
  technicianId: z.uuid(),
  windowStart: instant,
  windowEnd: instant,
  planned: z
    .strictObject({ start: instant, end: instant })
    .meta({ description: 'When the work is planned; the whole window where nothing was said.' }),
  movedFromId: z.uuid().nullable().meta({ description: 'The visit it was booked in place of.' }),
  moveAskedBy: z.enum(['customer', 'company']).nullable().meta({
    description: 'Who asked for that; what the company asks for never costs more.',
  }),
  windowAgreedBy: z.string().nullable().meta({
    description: 'Who agreed for the customer to another window than that visit had.',
  }),
  purpose: visitPurposeSchema,
  state: visitStateSchema,
  allowedActions: z.array(z.string()).meta({ description: 'What may be done from this state.' }),
  periodCode: z.string(),
  feeCents: cents.meta({ description: 'Fixed by the window accepted, whenever we arrive.' }),
  sameTripAs: z.uuid().nullable().meta({
    description: 'The visit whose fee is that of the whole trip; this one has no fee then.',
  }),
  feeAgreement: feeAgreementSchema
    .nullable()
    .meta({ description: 'The agreement whose discount on the fee binds since the booking.' }),
  feeAfterDiscountCents: cents.meta({
    description:
      'What that discount leaves of the fee. No quote of this visit charges more for it.',
  }),
  feeAgreedBy: z.string(),
  feeAgreedAt: instant,
  arrivedAt: instant.nullable().meta({ description: 'Nothing is recorded from before it.' }),
  leftAt: instant.nullable().meta({
    description:
      'When whoever was there ended the visit; not known of visits from before it was kept.',
  }),
  endNote: z.string().nullable().meta({ description: 'Why it was cancelled, or had no access.' }),
  version,
  createdAt: instant,
});

/** A visit that was booked anew, with all that went along to its technician. */
export const rebookedVisitSchema = visitSchema.extend({
  movedAlong: z
    .array(z.strictObject({ ticketId: z.uuid(), visitId: z.uuid(), movedFromId: z.uuid() }))
    .meta({ description: 'The visits that rest on its fee: one trip is given away whole.' }),
});

/** What the caller is told before anything is booked. */
export const visitFeeQuoteSchema = z.strictObject({
  windowStart: instant,
  periodCode: z.string(),
  feeCents: cents.meta({
    description: 'A visit is booked with this fee: by the schedule, and 0 within another’s trip.',
  }),
  sameTripAs: z
    .strictObject({ visitId: z.uuid(), ticketNumber: z.int() })
    .nullable()
    .optional()
    .meta({
      description:
        'The visit whose fee is that of the trip: the same technician is at the site that day ' +
        'already, and nowhere else in between. Absent when no technician is asked for.',
    }),
  agreement: z
    .strictObject({
      id: z.uuid(),
      planCode: z.string(),
      name: z.string(),
      endsOn: day.meta({ description: 'The first day it no longer holds.' }),
      feeAfterDiscountCents: cents,
    })
    .nullable()
    .optional()
    .meta({ description: 'Of the site, on the day of the window; absent when none is asked for.' }),
});

interface Promised {
  windowStart: string;
  windowEnd: string;
  planned?: { start: string } | undefined;
}

function isWhole(visit: {
  windowStart?: string | undefined;
  windowEnd?: string | undefined;
}): visit is Promised {
  return visit.windowStart !== undefined && visit.windowEnd !== undefined;
}

function startsInItsWindow({ windowStart, windowEnd, planned }: Promised): boolean {
  if (planned === undefined) return true;
  const start = Date.parse(planned.start);
  return Date.parse(windowStart) <= start && start <= Date.parse(windowEnd);
}

function minutesOf(visit: { windowStart: string; windowEnd: string }): number {
  return (Date.parse(visit.windowEnd) - Date.parse(visit.windowStart)) / 60_000;
}
