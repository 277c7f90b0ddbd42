import { invoiceTotal } from '../../src/billing/index.ts';
import { billOfJob, type JobBill, type ToBill } from './bill-of-job.ts';
import type { Trip } from './find-and-offer.ts';
import { type Job, technicianOf } from './job.ts';
import type { Pen } from './pen.ts';
import { alone, toBill, type Went } from './to-bill.ts';
import type { Closing, Issued } from './write-closing.ts';
import { backOf } from './write-memo.ts';
import type { Truth } from './wrongs/truth.ts';
import { bendsRecords } from './wrongs/wrong.ts';

/**
 * Says what was billed wrongly, with what the same job comes to when it is billed as it should have
 * been. A price that was to be bent and came to no more than the right one is no wrong.
 */
export function tellBill(pen: Pen, job: Job, trip: Trip, { went, issued, memo }: Billed): void {
  const { sold, told } = trip.offered;
  if (job.asksAgain) tellAsked(pen, job, trip, issued);
  if (job.wrong === undefined || sold === undefined || told === undefined) return;
  const documents = billOfJob(rightBill(pen, job, trip, went), 'less_what_was_left_out');
  const rightCents = invoiceTotal(documents).totalCents - givenBesides(job, documents, memo);
  const chargedCents = issued.totalCents - issued.creditedCents;
  if (chargedCents === rightCents && !bendsRecords(job.wrong)) return;
  tell(pen, job, { chargedCents, rightCents });
}

interface Billed {
  went: readonly Went[];
  issued: Issued;
  memo: Closing['memo'];
}

/**
 * What was given back as goodwill of something that was billed rightly. Of what is too dear it counts
 * toward putting it right.
 */
function givenBesides(
  { wrong }: Job,
  [document]: readonly JobBill[],
  memo: Closing['memo'],
): number {
  if (memo === undefined || document === undefined) return 0;
  const isOfWrong = memo.kind === 'goodwill' && memo.ofClass === wrong?.bendsClass;
  const given = isOfWrong ? undefined : backOf(document, memo);
  return given ? totalOf(given.credits) + given.taxCents : 0;
}

function rightBill(pen: Pen, job: Job, trip: Trip, went: readonly Went[]): ToBill {
  const { wrong, ...same } = job;
  const honestJob: Job = { ...same, wrong: undefined };
  if (wrong?.onlyFeeOwed) {
    return toBill(pen, honestJob, [
      alone({ ...trip, offered: { ...trip.offered, sold: undefined } }),
    ]);
  }
  return toBill(pen, honestJob, went.map(honestly));
}

function honestly({ trip, outcomes, changes }: Went): Went {
  const { sold } = trip.offered;
  const honest = sold && { ...sold, ...sold.honest };
  return {
    trip: { ...trip, offered: { ...trip.offered, sold: honest } },
    outcomes,
    changes: changes.map(honestly),
  };
}

/** A part that failed again within the year is honest, and somebody should look at it all the same. */
function tellAsked(pen: Pen, job: Job, { offered: { sold } }: Trip, issued: Issued): void {
  const isCharged = sold?.lines.some(({ kind, amountCents }) => kind === 'part' && amountCents > 0);
  if (!isCharged) return;
  const { totalCents: chargedCents } = issued;
  tellOf(pen, job, { kind: 'part_failed_again', chargedCents, rightCents: chargedCents });
}

/** Says that something is wrong, and what was charged and what would have been right. */
export function tell(
  pen: Pen,
  job: Job,
  amounts: Pick<Truth, 'chargedCents' | 'rightCents'>,
): void {
  const { wrong } = job;
  if (wrong === undefined) return;
  const { kind, shape } = wrong;
  tellOf(pen, job, { kind, ...(shape && { shape }), ...amounts });
}

function tellOf(
  pen: Pen,
  { ticketId, number: ticketNumber, slot }: Job,
  told: Pick<Truth, 'kind' | 'shape' | 'chargedCents' | 'rightCents'>,
): void {
  const technicianId = technicianOf(pen, slot).id;
  pen.tell({ ...told, ticketId, ticketNumber, technicianId });
}

function totalOf(lines: readonly { amountCents: number }[]): number {
  return lines.reduce((sum, { amountCents }) => sum + amountCents, 0);
}
