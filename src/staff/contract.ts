import { z } from 'zod';
import { roles } from '../platform/access/actor.ts';
import { confidential } from '../platform/access/confidential.ts';

export const staffSchema = z.strictObject({
  id: z.uuid(),
  name: z.string(),
  role: z.enum(roles),
  phone: confidential(
    z.string().nullable().meta({ description: 'For the office; null to everybody else.' }),
    'staff_phone',
  ),
  epa608Type: z.string().nullable().meta({
    description: 'Section 608 certificate: type_1, type_2, type_3 or universal.',
  }),
});
