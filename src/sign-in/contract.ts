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

/** Longer than a code of either kind, however it is typed. */
const code = text(40).meta({
  description: 'The six digits that the app shows, or a recovery code. Each is good once.',
});

export const secondFactorStateSchema = z.strictObject({
  isOn: z.boolean().meta({ description: 'Whether a code is asked for at sign-in.' }),
  recoveryCodesLeft: z.int().min(0),
});

export const meSchema = person.extend({
  email: z.string().nullable(),
  secondFactor: secondFactorStateSchema,
});

export const signInSchema = z.strictObject({
  email: text(254),
  password,
  code: code.optional(),
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

export const sessionSchema = z.strictObject({
  id: z.uuid(),
  carrier: z.enum(['bearer', 'cookie']).meta({
    description: 'A program shows its token as `bearer`, a browser as `cookie`.',
  }),
  program: z
    .string()
    .nullable()
    .meta({
      description:
        'What it was begun with, by what that says of itself: `Firefox, Windows` or `curl`. Null where ' +
        'it says nothing of use.',
    }),
  startedAt: instant,
  lastUsedAt: instant.meta({ description: 'To a minute.' }),
  endsUnusedAt: instant.meta({ description: 'When it ends unless it is used before.' }),
  expiresAt: instant.meta({ description: 'When it ends at the latest.' }),
  isThisOne: z.boolean().meta({ description: 'Whether it is the one that asks.' }),
});

export const endSessionSchema = z.strictObject({ password });

export const changePasswordSchema = z.strictObject({
  ...{ password, newPassword: password },
  code: code.optional(),
});

export const beginSecondFactorSchema = z.strictObject({ password });

export const begunSecondFactorSchema = z.strictObject({
  secret: z.string().meta({
    description: 'In base32, to be typed into an app that shows codes. It is told once.',
  }),
  uri: z.string().meta({ description: 'The same for a picture to be scanned: otpauth://totp/…' }),
});

export const confirmSecondFactorSchema = z.strictObject({ code });

export const confirmedSecondFactorSchema = z.strictObject({
  recoveryCodes: z.array(z.string()).meta({
    description:
      'For when the phone is gone, each good once. They are told once and stored nowhere.',
  }),
});

export const removeSecondFactorSchema = z.strictObject({ password, code });

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
  hasSecondFactor: z.boolean(),
  linkOpensUntil: instant.nullable().meta({
    description: 'Until when a link that was made for them still opens.',
  }),
});
