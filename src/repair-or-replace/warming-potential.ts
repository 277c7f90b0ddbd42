import type { RefrigerantCode } from '../trade/index.ts';

/** Printed as people read it; from memory of IPCC AR4, which the AIM Act counts by. */
export const warmingPotentialText: Record<RefrigerantCode, string> = {
  'R-22': '1,810',
  'R-32': '675',
  'R-134a': '1,430',
  'R-407C': '1,774',
  'R-410A': '2,088',
  'R-454B': '466',
};
