import type { JobDocument } from './job-facts.ts';

/** Before anything was given back; a credit of the fee that was cut stays so. */
export function asBilled(document: JobDocument): JobDocument {
  return { ...document, credited: document.credited.filter(({ amountCents }) => amountCents < 0) };
}
