import { seaLevelPsia } from './atmosphere.ts';
import type { RefrigerantCode } from './refrigerants.ts';
import { bubblePressurePsig } from './saturation.ts';

export type PressureClass = 'medium' | 'high' | 'very_high';

/**
 * The class of appliance that a refrigerant makes, by its saturated liquid pressure at 104 F:
 * medium 45 to 170 psia, high above 170 to 355, very high above 355. None of ours is low pressure
 * (below 45 psia). Source: definitions of 40 CFR 82.152; the pressures are from our own table.
 * Worked: R-134a 147.4 psia -> medium; R-410A 351.8 -> high; R-32 359.4 -> very high.
 */
export function pressureClass(refrigerant: RefrigerantCode): PressureClass {
  const psia = liquidPsiaAt104F(refrigerant);
  if (psia > 355) return 'very_high';
  return psia > 170 ? 'high' : 'medium';
}

function liquidPsiaAt104F(refrigerant: RefrigerantCode): number {
  const psig = bubblePressurePsig(refrigerant, 104);
  // 104 F is inside every table, so this tells of a broken table, not of an input.
  if (psig === undefined) throw new Error(`no saturation of ${refrigerant} at 104 F`);
  return psig + seaLevelPsia;
}
