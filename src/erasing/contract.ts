import { z } from 'zod';
import { instant, text } from '../platform/http/formats.ts';

/** Why somebody is erased: that they asked, and how. */
export const erasingSchema = z.strictObject({ reason: text(500) });

/** What was overwritten. */
export const erasedCodes = [
  'person',
  'addresses',
  'complaints',
  'phone_checks',
  'visits',
  'deliveries',
  'payers',
] as const;

/** What stays because law or bookkeeping needs it. */
export const stayingCodes = ['papers', 'answers', 'money', 'work', 'photos'] as const;

export const erasureSchema = z.strictObject({
  id: z.uuid(),
  customerId: z.uuid(),
  reason: z.string(),
  erasedAt: instant,
  erased: z.array(
    z.strictObject({
      code: z.enum(erasedCodes),
      count: z.int().min(0),
      /** What that was, in words. */
      text: z.string(),
    }),
  ),
  stays: z.array(
    z.strictObject({
      code: z.enum(stayingCodes),
      count: z.int().min(0),
      text: z.string(),
      /** Why it stays. */
      why: z.string(),
    }),
  ),
});
