import type { Correction } from '../auditing/index.ts';

/** A correction as an answer shows it. */
export function correctionBody({ invoiceId, position, key, toCents }: Correction) {
  return { invoiceId, document: position, key, toCents };
}
