import { type ChargedLine, chargedLines } from '../../billing/index.ts';
import type { JobDocument } from './job-facts.ts';

/** The charges of a document, each with what is left of it after what is aimed at it and given back. */
export function chargesOf({ lines, credited }: JobDocument): readonly ChargedLine[] {
  return chargedLines(lines, credited);
}
