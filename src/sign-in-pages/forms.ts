import { z } from 'zod';
import { languageSchema } from '../page-frame/index.ts';
import { text } from '../platform/http/formats.ts';

const shown = { language: languageSchema.default('en') };

/** Longer than anybody's may be, so that one of too many letters is told so in words. */
const password = z.string().max(1_000);
const code = z.string().max(40);
const email = text(254);

export const signInFormSchema = z.strictObject({
  ...shown,
  ...{ email, password, code: code.optional() },
});

export const setPasswordFormSchema = z.strictObject({
  ...shown,
  ...{ password, again: password },
  name: text(120).optional(),
  email: email.regex(/^[^\s@]+@[^\s@]+$/u).optional(),
});

export const changePasswordFormSchema = z.strictObject({
  ...shown,
  ...{ password, newPassword: password, again: password },
  code: code.optional(),
});

export const endSessionFormSchema = z.strictObject({ ...shown, password });

export const beginFormSchema = z.strictObject({ ...shown, password });
export const confirmFormSchema = z.strictObject({ ...shown, code });
export const removeFormSchema = z.strictObject({ ...shown, password, code });

/** What was typed into a field, to be shown again; never for a password or a code. */
export function typedIn(body: unknown, field: string): string | undefined {
  const typed = ((body ?? {}) as Readonly<Record<string, unknown>>)[field];
  return typeof typed === 'string' ? typed : undefined;
}
