/** The vacuum as the pump was shut off, and how it stood after the wait. */
export type VacuumDecay = {
  isolatedAtMicrons: number;
  afterHoldMicrons: number;
  holdMinutes: number;
  trend: 'leveled' | 'rising';
};

export type VacuumVerdict = 'pump_deeper' | 'hold_longer' | 'holds' | 'moisture' | 'leak';

/** Common practice, no source. */
export const deepVacuumMicrons = 500;
export const vacuumHoldMinutes = 10;

/**
 * What a deep vacuum says about the circuit before it is charged. It must reach 500 micron and stay
 * there for ten minutes. What rises and stops is moisture boiling off; what keeps rising is a leak.
 * Common practice, no source.
 * Worked: 350 to 420 micron in 10 min -> holds; 400 to 1,500 and stopped -> moisture; 400 to 1,500
 * and still rising -> leak.
 */
export function judgeVacuumDecay(decay: VacuumDecay): VacuumVerdict {
  if (decay.isolatedAtMicrons > deepVacuumMicrons) return 'pump_deeper';
  if (decay.afterHoldMicrons > deepVacuumMicrons) {
    return decay.trend === 'rising' ? 'leak' : 'moisture';
  }
  return decay.holdMinutes < vacuumHoldMinutes ? 'hold_longer' : 'holds';
}
