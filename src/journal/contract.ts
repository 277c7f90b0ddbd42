import { z } from 'zod';
import { instant } from '../platform/http/formats.ts';

/** One entry of the journal as the owner reads it. */
export const journalEntrySchema = z.strictObject({
  id: z.uuid(),
  at: instant,
  actorKind: z.enum(['staff', 'system', 'customer']),
  actorId: z.uuid().nullable(),
  actorRole: z.string().nullable(),
  requestId: z.string().nullable(),
  event: z.string(),
  subjectKind: z.string(),
  subjectId: z.string(),
  changes: z.record(z.string(), z.unknown()),
  /** Position in the sealed chain; null while it waits for its seal. */
  position: z.int().nullable(),
  hash: z.string().nullable(),
});

/** The end of the sealed chain. Keep it outside: it vouches for everything before it. */
export const journalTipSchema = z.strictObject({
  position: z.int(),
  hash: z.string(),
  unsealed: z.int().meta({ description: 'Entries that no seal vouches for yet.' }),
});
