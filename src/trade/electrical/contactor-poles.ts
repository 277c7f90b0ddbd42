import type { Nameplate } from '../evidence.ts';

/**
 * How many poles the contactor has. Where nobody recorded it, the number that switches every hot
 * leg: two on single-phase 208/230 V, three on three phases, so that no pole is ever missed.
 */
export function contactorPoles(nameplate: Nameplate): 1 | 2 | 3 {
  return nameplate.contactorPoles ?? (nameplate.phase === 3 ? 3 : 2);
}
