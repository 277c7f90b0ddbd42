import type { QuoteAt } from './job.ts';

/** A thing as an answer has it, with its tag. */
export function tagged({
  body,
  headers,
}: {
  // biome-ignore lint/suspicious/noExplicitAny: JSON as a client gets it; tests look at its fields.
  body: any;
  headers: Record<string, string>;
}): QuoteAt {
  return { body, tag: headers['etag'] ?? '' };
}
