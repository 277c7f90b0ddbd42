import { everythingRuns } from '../expectations.ts';
import type { Expectations } from '../fault.ts';

/**
 * What a hot day shows when too little air passes the indoor coil: everything runs, the air is weak
 * and cold, the coil colder still, at last with ice. Shares: common practice, no source.
 */
export const tooLittleAir = {
  ...everythingRuns,
  split: { high: 0.65, fine: 0.22 },
  suction: { low: 0.75, fine: 0.23 },
  head: { low: 0.3, fine: 0.68 },
  superheat: { low: 0.6, fine: 0.37 },
  subcooling: { fine: 0.68, high: 0.28 },
  compressor_amps: { none: 0.02, normal: 0.95 },
  ice_on_coil_or_line: 0.2,
} as const satisfies Expectations;
