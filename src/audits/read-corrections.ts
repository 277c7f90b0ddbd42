import { z } from 'zod';
import type { Correction } from '../auditing/index.ts';
import { cents } from '../pricing/index.ts';

/** The corrections of a flag as they were stored with it. */
export function readCorrections(stored: unknown): Correction[] {
  return z.array(correctionSchema).parse(stored);
}

const correctionSchema = z
  .object({
    invoiceId: z.string(),
    position: z.int(),
    key: z.string(),
    toCents: z.int().transform(cents),
    because: z.array(z.string()).optional(),
    asFeeCredit: z.literal(true).optional(),
    notOwed: z.literal(true).optional(),
  })
  .transform(
    ({ because, asFeeCredit, notOwed, ...rest }): Correction => ({
      ...rest,
      ...(because && { because }),
      ...(asFeeCredit && { asFeeCredit }),
      ...(notOwed && { notOwed }),
    }),
  );
