import type { Trip } from './find-and-offer.ts';
import type { Job } from './job.ts';
import { minutesAfter } from './minutes-after.ts';
import type { Pen } from './pen.ts';
import { nothingUndone } from './to-bill.ts';
import type { FieldVisit } from './write-evidence.ts';
import { type Outcomes, writeWork } from './write-work.ts';
import { actsOn } from './wrongs/wrong.ts';

/** What was done at a visit of what was agreed to at a trip. */
export function workAt(
  pen: Pen,
  { wrong }: Job,
  { offered: { sold }, findings, found, scenario, of }: Trip,
  visit: FieldVisit,
  arrivedAt: Date,
  minutes: number,
): Outcomes {
  if (sold === undefined) return nothingUndone;
  const at = minutesAfter(arrivedAt, minutes);
  const acts = actsOn(wrong, of);
  const mayLeave = wrong === undefined;
  return writeWork(pen, { visit, findings, arrivedAt, sold, scenario, found, at, acts, mayLeave });
}
