import { z } from 'zod';
import { instant } from '../platform/http/formats.ts';

export const paperKindSchema = z
  .enum(['quote', 'acceptance', 'decline', 'invoice', 'credit_memo', 'work_record'])
  .meta({ description: 'What the paper tells of.' });

export const paperLanguageSchema = z.enum(['en', 'es']);

export const paperSchema = z.strictObject({
  id: z.uuid(),
  ticketId: z.uuid(),
  kind: paperKindSchema,
  number: z.string().meta({
    description: 'As printed: of the quote, the invoice, the credit memo or the ticket.',
  }),
  edition: z.int().min(1).nullable().meta({
    description:
      'Which revision of the quote, or which closing of the ticket; null for papers about money.',
  }),
  issuedAt: instant,
  languages: z.array(paperLanguageSchema).meta({
    description: 'In which it was issued. What was issued at an earlier time is in English alone.',
  }),
});
