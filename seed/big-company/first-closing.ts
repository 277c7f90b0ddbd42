import type { ToBill } from './bill-of-job.ts';
import type { Trip } from './find-and-offer.ts';
import type { Job } from './job.ts';
import type { Closing } from './write-closing.ts';

/** How a ticket is closed the first time, where all went well. */
export function firstClosing(job: Job, { arrivedAt }: Trip, at: Date, bill: ToBill): Closing {
  return {
    sequence: 1,
    at,
    complaintGone: 'yes',
    noReadingsWhy: job.scenario.leave ? null : 'Nothing of it can be measured again.',
    conditionLeft: 'Running.',
    daysThere: [arrivedAt],
    toBill: bill,
  };
}
