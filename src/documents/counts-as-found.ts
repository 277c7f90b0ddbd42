import type { PaperStanding } from './paper-parts.ts';

/** Whether the evidence alone carries a finding, so that it may be called found. */
export function countsAsFound(standing: PaperStanding): boolean {
  return standing === 'proven' || standing === 'supported';
}
