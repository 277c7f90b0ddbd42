import type { JobDocument } from './job-facts.ts';

/** The local day on which a document was agreed to; undefined where that is not known. */
export function dayOfYes({ agreed }: JobDocument): string | undefined {
  return agreed?.acceptedOn;
}
