import { z } from 'zod';

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
});
