import { circuitVisits } from './circuit-visits.ts';
import { condensateVisits } from './condensate-visits.ts';
import { controlVisits } from './control-visits.ts';
import { motorVisits } from './motor-visits.ts';
import { otherVisits } from './other-visits.ts';
import { powerVisits } from './power-visits.ts';
import type { Visit } from './visit.ts';

/** Forty invented calls that judge the fault rules and the advice on what to check next. */
export const visits: Visit[] = [
  ...powerVisits,
  ...controlVisits,
  ...condensateVisits,
  ...motorVisits,
  ...circuitVisits,
  ...otherVisits,
];
