import { z } from 'zod';
import { code, phone, text, version } from '../platform/http/formats.ts';

const timeZone = z
  .string()
  .max(60)
  .refine(isZone, { error: 'is no time zone such as America/Chicago' })
  .meta({
    description:
      'The IANA zone of all local times: of windows, of days on papers, of the hours that cost more. ' +
      'It can be changed until the first price book, tax rule or customer is there.',
  });
const defaultJurisdiction = code.meta({
  description: 'Whose taxes and consumer law apply to homes that name none of their own.',
});
const licenseNumber = text(60).meta({ description: 'As it has to stand on quotes.' });
const regulator = text(200).meta({
  description: 'Who licenses the company, and where to complain; stands on quotes.',
});

/** Who the company is, as its owner says it once. */
export const newCompanySchema = z.strictObject({
  name: text(120),
  street: text(200),
  city: text(120),
  region: text(60),
  postalCode: text(20),
  phone,
  email: z.email().max(254),
  licenseNumber,
  regulator,
  timeZone,
  defaultJurisdiction,
});

/** Absent leaves a field as it is. */
export const companyChangeSchema = newCompanySchema.partial();

/** The company as its staff and its papers see it. */
export const companySchema = z.strictObject({
  name: z.string(),
  street: z.string(),
  city: z.string(),
  region: z.string(),
  postalCode: z.string(),
  phone: z.string(),
  email: z.string(),
  licenseNumber: z.string(),
  regulator: z.string(),
  timeZone: z.string().meta({ description: 'IANA zone of all local times.' }),
  defaultJurisdiction: z.string(),
  version,
});

/** A name, and not a distance from UTC, which knows no summer time. */
function isZone(name: string): boolean {
  if (!/^[A-Z][A-Za-z_]*(\/[A-Za-z0-9_+-]+)*$/.test(name)) return false;
  try {
    new Intl.DateTimeFormat('en-US', { timeZone: name });
    return true;
  } catch {
    return false;
  }
}
