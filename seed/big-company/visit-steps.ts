import { step } from './job.ts';
import type { FieldVisit } from './write-evidence.ts';

/** The steps of a visit that went as it was booked. */
export function visitSteps(
  window: { start: Date },
  arrivedAt: Date,
  atEnd: Date,
  technician: FieldVisit['technician'],
) {
  return [
    step('on_the_way' as const, window.start, technician),
    step('on_site' as const, arrivedAt, technician),
    step('finished' as const, atEnd, technician),
  ];
}
