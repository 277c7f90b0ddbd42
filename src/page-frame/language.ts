import { z } from 'zod';

/** What the pages speak. */
export const languageSchema = z.enum(['en', 'es']);
export type Language = z.output<typeof languageSchema>;
