import { z } from 'zod';
import { roles } from '../platform/access/actor.ts';
import { instant, phone, text } from '../platform/http/formats.ts';

/** Longer than anybody's password may be, so that one of too many letters is told so in words. */
const password = z.string().min(1).max(1_000).meta({
  format: 'password',
  description: 'All characters are allowed. A new one has 15 to 128 of them.',
});

const email = text(254).regex(/^[^\s@]+@[^\s@]+$/u, { error: 'is not an e-mail address' });

const person = z.strictObject({ id: z.uuid(), name: z.string(), role: z.enum(roles) });

export const meSchema = person.extend({ email: z.string().nullable() });

export const signInSchema = z.strictObject({
  email: text(254),
  password,
  carrier: z
    .enum(['bearer', 'cookie'])
    .default('bearer')
    .meta({
      description:
        'How the session is shown from then on: by a program in the Authorization header, or by a ' +
        'browser with a cookie that no script reads.',
    }),
});

export const signedInSchema = z.strictObject({
  token: z.string().nullable().meta({
    description: 'It is told once and stored nowhere; null where it went into the cookie.',
  }),
  expiresAt: instant.meta({ description: 'When the session ends at the latest.' }),
  staff: person,
});

export const signedOutSchema = z.strictObject({ sessionsEnded: z.int().min(0) });

export const changePasswordSchema = z.strictObject({ password, newPassword: password });

export const useLinkSchema = z.strictObject({
  token: z.string().min(1).max(200),
  password,
  name: text(120).optional().meta({ description: 'At the link of the first owner only.' }),
  email: email.optional().meta({ description: 'At the link of the first owner only.' }),
});

export const passwordSetSchema = z.strictObject({ staff: person });

export const inviteSchema = z.strictObject({
  name: text(120),
  role: z.enum(roles),
  email,
  phone: phone.optional(),
});

export const invitationSchema = z.strictObject({
  staffId: z.uuid(),
  token: z
    .string()
    .nullable()
    .meta({
      description:
        'Whoever has it sets the password, once. It is told once, in the first answer, and stored ' +
        'nowhere: null when that answer is repeated.',
    }),
  expiresAt: instant,
});

export const staffAccessSchema = person.extend({
  email: z.string().nullable(),
  disabledAt: instant.nullable(),
  hasPassword: z.boolean(),
  linkOpensUntil: instant.nullable().meta({
    description: 'Until when a link that was made for them still opens.',
  }),
});
