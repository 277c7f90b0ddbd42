import { type FaultCode, faults } from './faults/catalog.ts';

/** How many of a thousand no-cooling calls the fault is behind: common practice, no source. */
export function callsPerThousand(code: FaultCode): number {
  return faults[code].perThousand;
}
