import type { BilledDocument, BilledLine } from './billed-document.ts';
import { documentOf } from './document-of.ts';

/** An accepted option is billed line for line as it was accepted, its tax unchanged. */
export function acceptedDocument(lines: readonly BilledLine[]): BilledDocument {
  return documentOf('accepted', lines);
}
