import { z } from 'zod';
import { newCustomerSchema } from '../customers/index.ts';
import { cents, day, instant, text } from '../platform/http/formats.ts';
import { agreementSchema } from '../pricing/index.ts';
import { newSiteSchema, siteSchema } from '../sites/index.ts';
import {
  newTicketSchema,
  openedTicketSchema,
  recentWorkSchema,
  ticketSchema,
} from '../tickets/index.ts';
import { equipmentKindSchema } from '../trade/index.ts';
import { visitFeeQuoteSchema, visitStateSchema } from '../visits/index.ts';
import { complaintGoneSchema } from '../work/index.ts';

export const callerSearchQuery = z.strictObject({
  search: text(100).min(2).meta({
    description: 'Part of a phone number, a name, or a street with or without its house number.',
  }),
});

/** Somebody who may be calling. */
const callerSchema = z.strictObject({
  id: z.uuid(),
  name: z.string(),
  phone: z.string(),
  email: z.string().nullable(),
  language: z.enum(['en', 'es']),
  foundBy: z
    .enum(['phone', 'name', 'street', 'phone_alike', 'name_alike', 'street_alike'])
    .meta({ description: 'Alike: nobody holds it as it was typed.' }),
  sites: z
    .array(
      z.strictObject({
        id: z.uuid(),
        street: z.string(),
        unit: z.string().nullable(),
        city: z.string(),
        roles: z
          .array(z.enum(['occupant', 'approver', 'payer']))
          .meta({ description: 'What this person is to the site.' }),
      }),
    )
    .meta({ description: 'Ten at most, those found by their street first.' }),
});

export const callersSchema = z.strictObject({
  items: z.array(callerSchema).meta({ description: 'Twenty at most, best first.' }),
});

export const newCallSchema = z.strictObject({
  customer: z
    .union([z.strictObject({ id: z.uuid() }), z.strictObject({ new: newCustomerSchema })])
    .meta({ description: 'Who calls: somebody known, or somebody new.' }),
  site: z
    .union([
      z.strictObject({ id: z.uuid() }),
      z.strictObject({ new: newSiteSchema.partial({ occupantId: true }) }),
    ])
    .meta({ description: 'Where: a known site, or a new one, of the caller unless said.' }),
  complaint: newTicketSchema.shape.complaint,
  symptoms: newTicketSchema.shape.symptoms,
  anyway: z.boolean().default(false).meta({
    description: 'Make the person and the site though one with that phone or street is known.',
  }),
});

export const takenCallSchema = z.strictObject({
  customerId: z.uuid(),
  siteId: z.uuid(),
  ticket: openedTicketSchema,
});

const personSchema = z.strictObject({ id: z.uuid(), name: z.string(), phone: z.string() });

const machineSchema = z.strictObject({
  id: z.uuid(),
  kind: equipmentKindSchema,
  maker: z.string().nullable(),
  model: z.string().nullable(),
  ageYears: z.int().nullable().meta({ description: 'Whole years; null where it is not known.' }),
  warranties: z.array(
    z.strictObject({
      of: z.enum(['parts', 'compressor', 'labor']),
      until: day.meta({ description: 'The last day.' }),
      holds: z.boolean().meta({ description: 'Today, by the company’s calendar.' }),
    }),
  ),
});

const openTicketSchema = z.strictObject({
  ...ticketSchema.pick({
    id: true,
    number: true,
    kind: true,
    state: true,
    complaint: true,
    symptoms: true,
    createdAt: true,
  }).shape,
  visits: z
    .array(
      z.strictObject({
        id: z.uuid(),
        state: visitStateSchema,
        technicianName: z.string(),
        windowStart: instant,
        windowEnd: instant,
      }),
    )
    .meta({ description: 'Booked, or under way.' }),
});

const openQuoteSchema = z.strictObject({
  id: z.uuid(),
  number: z.int(),
  revision: z.int(),
  ticketNumber: z.int(),
  validUntil: instant,
  options: z.array(z.strictObject({ title: z.string(), totalCents: cents })),
});

const closedTicketSchema = z.strictObject({
  id: z.uuid(),
  number: z.int(),
  complaint: z.string(),
  closedOn: day,
  found: z.array(z.string()).meta({
    description: 'The faults that the evidence carried, in plain words.',
  }),
  done: z.array(z.string()).meta({ description: 'The work, in plain words.' }),
  complaintGone: complaintGoneSchema,
  conditionLeft: z.string(),
});

/** What whoever talks to a household, or drives to it, wants to know at a glance. */
export const glanceSchema = z.strictObject({
  site: siteSchema.pick({
    id: true,
    street: true,
    unit: true,
    city: true,
    region: true,
    postalCode: true,
    place: true,
    accessNotes: true,
  }),
  occupant: personSchema,
  approver: personSchema.extend({
    limitCents: cents.nullable().meta({ description: 'Up to where this person may say yes.' }),
  }),
  payer: personSchema,
  systems: z.array(
    z.strictObject({ id: z.uuid(), name: z.string(), machines: z.array(machineSchema) }),
  ),
  agreement: z
    .strictObject({
      id: z.uuid(),
      endsOn: day.meta({ description: 'The first day it no longer holds.' }),
      plan: agreementSchema.meta({ description: 'Its name, and what it takes off each charge.' }),
    })
    .nullable(),
  feeNow: visitFeeQuoteSchema.nullable().meta({
    description: 'Of a visit whose window began now; null before the first price book.',
  }),
  openTickets: z.array(openTicketSchema).meta({ description: 'The oldest first.' }),
  openQuotes: z.array(openQuoteSchema).meta({ description: 'Issued, and still to be answered.' }),
  lastClosed: z.array(closedTicketSchema).meta({
    description: 'The five tickets closed last, the latest first.',
  }),
  recentWork: z.array(recentWorkSchema).meta({
    description: 'Closed tickets that still reopen as a callback, without a fee.',
  }),
});
