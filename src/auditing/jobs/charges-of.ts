import { type ChargedLine, chargedLines } from '../../billing/index.ts';
import type { JobDocument } from './job-facts.ts';

/**
 * The charges of a document, each with what is left of it after what is aimed at it and given back.
 * Every rule asks for them, so they are worked out once.
 */
export function chargesOf(document: JobDocument): readonly ChargedLine[] {
  const known = charges.get(document);
  if (known !== undefined) return known;
  const found = chargedLines(document.lines, document.credited);
  charges.set(document, found);
  return found;
}

const charges = new WeakMap<JobDocument, readonly ChargedLine[]>();
