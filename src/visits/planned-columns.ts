import type { z } from 'zod';
import type { plannedWorkSchema } from './contract.ts';

/** When work is planned, as it is stored. */
export interface PlannedColumns {
  plannedStart: Date;
  plannedEnd: Date;
}

/** A start and its minutes, as they are stored. */
export function plannedColumns({
  start,
  minutes,
}: z.output<typeof plannedWorkSchema>): PlannedColumns {
  const plannedStart = new Date(start);
  return { plannedStart, plannedEnd: new Date(plannedStart.getTime() + minutes * 60_000) };
}

/** When the work of a visit is planned; where nothing was said, the whole window. */
export function plannedOf(visit: {
  plannedStart: Date | null;
  plannedEnd: Date | null;
  windowStart: Date;
  windowEnd: Date;
}): PlannedColumns {
  return {
    plannedStart: visit.plannedStart ?? visit.windowStart,
    plannedEnd: visit.plannedEnd ?? visit.windowEnd,
  };
}
