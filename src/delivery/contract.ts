import { z } from 'zod';
import { instant, version } from '../platform/http/formats.ts';

export const deliveryStateSchema = z.enum(['waiting', 'sending', 'sent', 'dead']).meta({
  description:
    '`dead` is what nobody tries again by itself: the reason says why, and a person decides.',
});

export const channelSchema = z.enum(['mail', 'text']).meta({
  description:
    'A mail has the paper as a PDF. A text has the link to a quote that waits for its answer.',
});

export const recipientSchema = z.enum(['occupant', 'approver', 'payer']);

export const newDeliverySchema = z.strictObject({ to: recipientSchema, channel: channelSchema });

export const deliverySchema = z.strictObject({
  id: z.uuid(),
  paper: z.strictObject({
    id: z.uuid(),
    kind: z.string(),
    number: z.string(),
    ticketId: z.uuid(),
  }),
  channel: channelSchema,
  recipient: recipientSchema,
  customer: z.strictObject({ id: z.uuid(), name: z.string() }),
  language: z.enum(['en', 'es']),
  cause: z.enum(['issued', 'asked']).meta({
    description: 'Whether it goes out by itself because the paper was issued, or was asked for.',
  }),
  askedBy: z
    .strictObject({ staffId: z.uuid(), staffName: z.string() })
    .nullable()
    .meta({ description: 'Null for what goes out by itself, and where the customer asked.' }),
  createdAt: instant,
  state: deliveryStateSchema,
  allowedActions: z.array(z.enum(['retry'])),
  attempts: z.int().min(0),
  nextAt: instant.nullable().meta({ description: 'When it is tried next, while it waits.' }),
  sentAt: instant.nullable(),
  sentTo: z.string().nullable().meta({ description: 'The address or number it went to.' }),
  reason: z.string().nullable().meta({
    description: 'Why it is dead, or why the last attempt at it failed.',
  }),
  mayHaveArrived: z.boolean().meta({
    description:
      'It is dead, but whoever passes it on may have taken it before they broke off: ask before it ' +
      'is sent again. A text is then asked for anew; a retry would keep the key that the gateway ' +
      'knows, and is not offered.',
  }),
  version,
});
