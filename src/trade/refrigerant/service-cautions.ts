import { type RefrigerantCode, refrigerants } from './refrigerants.ts';

/** What a refrigerant asks of the person who opens its circuit, beyond the usual. */
export function serviceCautions(refrigerant: RefrigerantCode): readonly string[] {
  return refrigerants[refrigerant].safetyGroup === 'A2L' ? a2lCautions : [];
}

/** Common practice, no source, except the 25 %, which public pages report from a UL standard. */
export const a2lCautions = [
  'It can burn: no flame, spark or smoking while any is in the circuit or the air; air the room before and during the work.',
  'Use a recovery machine, gauges and leak detector rated for A2L.',
  'Recover, then purge with nitrogen before brazing; vapor left in the oil can still burn.',
  'The cylinder has a left-hand thread.',
  'The leak sensor of the unit acts at a quarter of what could burn. Never bypass it.',
] as const;
