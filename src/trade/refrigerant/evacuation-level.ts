import { type PressureClass, pressureClass } from './pressure-class.ts';
import type { RefrigerantCode } from './refrigerants.ts';

/** The appliance, or its isolated component, and the machine that recovers from it. */
export type Recovery = {
  refrigerant: RefrigerantCode;
  fullChargeLb: number;
  recoveryMachineMade: 'before_15_nov_1993' | 'since_15_nov_1993';
};

/**
 * The vacuum in inches of mercury that an appliance (no small one) must be evacuated to before it
 * is opened for a major repair; 0 is atmospheric. Source: 40 CFR 82.156 table 1. An EPA web page
 * of 2017 prints 10 where the regulation says 15; the regulation rules.
 * Worked: R-410A or R-22 split system of 8 lb, machine of today -> 0; R-134a, 200 lb -> 15.
 */
export function evacuationLevelInHg(recovery: Recovery): number {
  const row = levelsInHg[pressureClass(recovery.refrigerant)];
  const size = recovery.fullChargeLb < largeChargeLb ? 'below200Lb' : 'from200Lb';
  return row[size][recovery.recoveryMachineMade];
}

const largeChargeLb = 200;

type ByMachine = Record<Recovery['recoveryMachineMade'], number>;

const atmospheric: ByMachine = { before_15_nov_1993: 0, since_15_nov_1993: 0 };
const levelsInHg: Record<PressureClass, Record<'below200Lb' | 'from200Lb', ByMachine>> = {
  very_high: { below200Lb: atmospheric, from200Lb: atmospheric },
  high: {
    below200Lb: atmospheric,
    from200Lb: { before_15_nov_1993: 4, since_15_nov_1993: 10 },
  },
  medium: {
    below200Lb: { before_15_nov_1993: 4, since_15_nov_1993: 10 },
    from200Lb: { before_15_nov_1993: 4, since_15_nov_1993: 15 },
  },
};
