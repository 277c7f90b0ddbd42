import { PaperRefused } from './paper-refused.ts';

/**
 * Refuses a paper without the instant that dates its file.
 * @throws PaperRefused
 */
export function assertDated(issuedAt: string): void {
  if (Number.isNaN(Date.parse(issuedAt))) {
    throw new PaperRefused(`The instant of issue is not a date: '${issuedAt}'.`);
  }
}
