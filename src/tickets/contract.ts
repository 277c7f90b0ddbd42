import { z } from 'zod';
import { instant, text, version } from '../platform/http/formats.ts';
import { answerSchema, observationCodeSchema } from '../trade/index.ts';

export const ticketStateSchema = z.enum([
  'new',
  'scheduled',
  'in_progress',
  'waiting_for_part',
  'waiting_for_answer',
  'work_complete',
  'closed',
  'resolved_by_phone',
  'cancelled',
]);

/** What a caller complains of, coded, so that tickets can be found and counted by it. */
export const symptomSchema = z.enum([
  'no_cooling',
  'weak_cooling',
  'no_heating',
  'weak_heating',
  'no_power',
  'no_airflow',
  'weak_airflow',
  'water_leak',
  'ice',
  'noise',
  'smell',
  'breaker_trips',
  'short_cycling',
  'never_stops',
  'thermostat_blank',
]);

/** What a ticket is about: trouble that was called for, or maintenance due under an agreement. */
export const ticketKindSchema = z.enum(['repair', 'maintenance']);
export type TicketKind = z.infer<typeof ticketKindSchema>;

export const newTicketSchema = z.strictObject({
  siteId: z.uuid(),
  callerId: z.uuid().optional().meta({ description: 'Who called; the occupant when absent.' }),
  complaint: text(2_000).meta({ description: 'In the caller’s words.' }),
  symptoms: z
    .array(symptomSchema)
    .max(20)
    .default([])
    .meta({ description: 'Coded, such as no_cooling.' }),
});

/** An answer given on the phone. It is kept as reported, and is never evidence. */
export const phoneAnswerSchema = z.strictObject({
  code: observationCodeSchema,
  answer: answerSchema,
  note: text(500).optional(),
});

export const phoneResolutionSchema = z.strictObject({
  answers: z.array(phoneAnswerSchema).min(1).max(40),
  whatHelped: text(1_000),
});

export const cancellationSchema = z.strictObject({ reason: text(1_000) });

/** What was done not long ago at a site for the same trouble, as a warning to whoever takes a call. */
export const recentWorkSchema = z.strictObject({
  ticketId: z.uuid(),
  ticketNumber: z.int(),
  closedOn: z.iso.date(),
  symptoms: z.array(symptomSchema).meta({ description: 'What both calls complain of.' }),
  repairs: z.array(
    z.strictObject({ systemId: z.uuid(), systemName: z.string(), task: z.string() }),
  ),
  reopenUntil: z.iso.date().meta({ description: 'The last day on which it reopens.' }),
  reopenWith: z.string().meta({ description: 'The act that reopens it as a callback.' }),
});

export const ticketSchema = z.strictObject({
  id: z.uuid(),
  number: z.int(),
  siteId: z.uuid(),
  callerId: z.uuid(),
  complaint: z.string(),
  symptoms: z.array(z.string()),
  kind: ticketKindSchema,
  state: ticketStateSchema,
  callback: z.boolean().meta({
    description: 'The same trouble is back: it was closed, and reopened without a fee.',
  }),
  allowedActions: z.array(z.string()).meta({ description: 'What may be done from this state.' }),
  closingNote: z.string().nullable(),
  firstClosedAt: instant.nullable().meta({
    description: 'It stays when a callback reopens the ticket.',
  }),
  version,
  createdAt: instant,
});

/** A ticket that was just opened, with what a person should know before somebody is sent. */
export const openedTicketSchema = z.strictObject({
  ...ticketSchema.shape,
  recentWork: z.array(recentWorkSchema).meta({
    description:
      'Closed tickets of the site with the same trouble that still reopen as a callback, without a ' +
      'fee. Where it is the same fault of the same system, cancel this one and reopen that one.',
  }),
});
