import { z } from 'zod';
import { instant } from '../platform/http/formats.ts';

export const holderSchema = z.enum(['approver', 'payer']).meta({
  description:
    'Whom of the site it is made for. Whoever pays may agree to any amount, an approver who does ' +
    'not pay up to the site’s limit. A technician makes no link for a payer.',
});

export const newLinkSchema = z.strictObject({ holder: holderSchema });

export const linkSchema = z.strictObject({
  id: z.uuid(),
  quoteId: z.uuid(),
  holder: holderSchema,
  holderName: z.string(),
  madeBy: z
    .strictObject({ staffId: z.uuid(), staffName: z.string() })
    .nullable()
    .meta({
      description:
        'Who of our staff made it, and so was told its address; null of a link that was made for a ' +
        'mail or a text and stands nowhere else.',
    }),
  deliveryId: z
    .uuid()
    .nullable()
    .meta({
      description:
        'The delivery that it was made for; null of a link that staff made. Where its `sentTo` is an ' +
        'address that was mistyped, revoke this link: changing the customer’s address does not. ' +
        'Then ask for the paper anew.',
    }),
  createdAt: instant,
  expiresAt: instant.meta({
    description:
      'Until when it opens: 30 days, and at least two weeks longer than the quote stands; a year ' +
      'from the answer on.',
  }),
  revokedAt: instant.nullable(),
});

export const madeLinkSchema = linkSchema.extend({
  url: z
    .string()
    .nullable()
    .meta({
      description:
        'What is sent to the customer. It is told once, in the first answer, and stored nowhere: ' +
        'null when that answer is repeated. Make a new link if it is lost.',
    }),
  text: z
    .string()
    .nullable()
    .meta({
      description:
        'A short text with the link, in the holder’s language, to copy into any messenger. It fits ' +
        'one text message where the company’s name leaves room. Null when the answer is repeated.',
    }),
});
