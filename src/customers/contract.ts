import { z } from 'zod';
import { instant, phone, text, version } from '../platform/http/formats.ts';

const languages = z.enum(['en', 'es']);

export const newCustomerSchema = z.strictObject({
  name: text(200),
  phone,
  email: z.email().max(254).optional(),
  language: languages.default('en'),
});

/** Absent leaves a field as it is; null empties it. */
export const customerChangeSchema = z.strictObject({
  name: text(200).optional(),
  phone: phone.optional(),
  email: z.email().max(254).nullable().optional(),
  language: languages.optional(),
});

export const customerSchema = z.strictObject({
  id: z.uuid(),
  name: z.string(),
  phone: z.string(),
  email: z.string().nullable(),
  language: languages,
  version,
  createdAt: instant,
});
