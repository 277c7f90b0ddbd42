import { z } from 'zod';
import { keysOf } from './keys-of.ts';
import { airflowObservations } from './observations/airflow.ts';
import { condensateObservations } from './observations/condensate.ts';
import { controlObservations } from './observations/control.ts';
import { motorObservations } from './observations/motor.ts';
import type { ObservationWords } from './observations/observation.ts';
import { powerObservations } from './observations/power.ts';
import { refrigerantObservations } from './observations/refrigerant.ts';
import { runningObservations } from './observations/running.ts';

const allObservations = {
  ...runningObservations,
  ...powerObservations,
  ...controlObservations,
  ...condensateObservations,
  ...motorObservations,
  ...airflowObservations,
  ...refrigerantObservations,
} as const;

export const observationCodeSchema = z.enum(keysOf(allObservations));
export type ObservationCode = z.infer<typeof observationCodeSchema>;

/** What is seen, heard or tried. */
export const observationWords: Record<
  ObservationCode,
  ObservationWords & { excludes?: ObservationCode }
> = allObservations;
