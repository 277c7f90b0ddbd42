import { z } from 'zod';
import { cents, instant, text, version } from '../platform/http/formats.ts';

export const visitStateSchema = z.enum([
  'booked',
  'on_the_way',
  'on_site',
  'finished',
  'no_access',
  'cancelled',
]);

export const newVisitSchema = z
  .strictObject({
    ticketId: z.uuid(),
    technicianId: z.uuid(),
    windowStart: instant,
    windowEnd: instant,
    feeDisclosure: z
      .strictObject({
        toldFeeCents: cents.meta({ description: 'The visit fee the caller was told.' }),
        agreedBy: text(200).meta({ description: 'Who said yes to it at the call.' }),
      })
      .meta({ description: 'The only charge that rests on less than a finding rests on this.' }),
  })
  .refine((visit) => Date.parse(visit.windowEnd) > Date.parse(visit.windowStart), {
    path: ['windowEnd'],
    error: 'must be after windowStart',
  })
  .refine((visit) => Date.parse(visit.windowEnd) - Date.parse(visit.windowStart) <= DAY_MS, {
    path: ['windowEnd'],
    error: 'a window is a day long at the most',
  });

const DAY_MS = 86_400_000;

/** How the ticket goes on after a finished visit. */
export const visitEndSchema = z.strictObject({
  ticketIs: z.enum(['work_complete', 'waiting_for_answer', 'waiting_for_part']),
});

export const visitReasonSchema = z.strictObject({ reason: text(1_000) });

export const visitSchema = z.strictObject({
  id: z.uuid(),
  ticketId: z.uuid(),
  technicianId: z.uuid(),
  windowStart: instant,
  windowEnd: instant,
  state: visitStateSchema,
  allowedActions: z.array(z.string()).meta({ description: 'What may be done from this state.' }),
  periodCode: z.string(),
  feeCents: cents.meta({ description: 'Fixed by the window accepted, whenever we arrive.' }),
  feeAgreedBy: z.string(),
  feeAgreedAt: instant,
  version,
  createdAt: instant,
});
