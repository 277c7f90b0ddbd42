import { laterCircuitVisits } from './later/circuit-visits.ts';
import { laterControlVisits } from './later/control-visits.ts';
import { laterMotorVisits } from './later/motor-visits.ts';
import { laterPowerVisits } from './later/power-visits.ts';
import type { Visit } from './visit.ts';

/**
 * Twenty invented calls written after the rules, by somebody who had not read them: how well the
 * rules and the advice do on calls that nobody could fit them to.
 */
export const laterVisits: Visit[] = [
  ...laterPowerVisits,
  ...laterControlVisits,
  ...laterMotorVisits,
  ...laterCircuitVisits,
];
