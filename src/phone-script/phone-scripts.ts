import { z } from 'zod';
import { phone1 } from './phone-1/phone-1.ts';
import type { Script } from './script.ts';

export const phoneScriptVersionSchema = z.enum(['phone-1']);
export type PhoneScriptVersion = z.infer<typeof phoneScriptVersionSchema>;

/**
 * Every released script, by version. A dialogue keeps the version it began with, so an old one must
 * read the same for ever; a changed word is the next version.
 */
export const phoneScripts: Record<PhoneScriptVersion, Script> = {
  'phone-1': phone1,
};

/** The version that new dialogues begin with. */
export const currentPhoneScript: PhoneScriptVersion = 'phone-1';
