import { z } from 'zod';
import { cents, day, instant, text, version } from '../platform/http/formats.ts';

export const claimStateSchema = z.enum(['open', 'sent', 'credited', 'refused', 'withdrawn']);

const oldPartSchema = z.enum(['returned', 'kept', 'scrapped']).meta({
  description: 'What became of the part that came out, as the maker asks for it.',
});

export const claimSendSchema = z.strictObject({
  registration: text(120).meta({ description: 'Number of the registration or of the claim.' }),
  oldPart: oldPartSchema,
  happenedOn: day,
});

export const claimCreditSchema = z.strictObject({
  amountCents: cents.min(1),
  reference: text(120).meta({ description: 'Of the maker’s or the distributor’s credit.' }),
  happenedOn: day,
});

export const claimRefusalSchema = z.strictObject({ reason: text(1_000), happenedOn: day });

export const claimWithdrawalSchema = z.strictObject({
  reason: text(1_000).meta({ description: 'Why the maker is not asked after all.' }),
  happenedOn: day,
});

export const claimSchema = z.strictObject({
  id: z.uuid(),
  partUseId: z.uuid(),
  ticketId: z.uuid(),
  visitId: z.uuid(),
  equipment: z.strictObject({
    id: z.uuid(),
    kind: z.string(),
    maker: z.string().nullable(),
    model: z.string().nullable(),
    serial: z.string().nullable(),
  }),
  partCode: z.string(),
  newSerial: z.string().nullable(),
  oldSerial: z.string().nullable(),
  oldPartAtVisit: z.string(),
  state: claimStateSchema,
  allowedActions: z.array(z.string()),
  openedAt: instant,
  sent: z
    .strictObject({ registration: z.string(), oldPart: oldPartSchema, happenedOn: day })
    .nullable(),
  credited: z
    .strictObject({ amountCents: cents, reference: z.string(), happenedOn: day })
    .nullable(),
  refused: z.strictObject({ reason: z.string(), happenedOn: day }).nullable(),
  withdrawn: z.strictObject({ reason: z.string(), happenedOn: day }).nullable(),
  version,
});
