import { dollarsText } from '../../pricing/index.ts';
import { billedTogether } from '../jobs/billed-together.ts';
import { chargesOf } from '../jobs/charges-of.ts';
import { feeOf } from '../jobs/fee-of.ts';
import type { JobDocument, JobVisit } from '../jobs/job-facts.ts';
import type { JobPrices } from '../jobs/prices-of.ts';
import { cannotJudge, clear } from './answers.ts';
import type { AuditRule } from './audit-rule.ts';
import { flaggedFor } from './flagged-for.ts';
import { feeNotOwed } from './lowered.ts';

/**
 * One visit fee for each trip that somebody was called out for: none for coming back with a part, for
 * our own work, for maintenance under an agreement, or for a visit that belongs to another's trip.
 * Each fee stands against a trip that was told its amount; those with an accepted quote come first.
 */
export const feeChargedTwice: AuditRule<'fee_charged_twice'> = {
  code: 'fee_charged_twice',
  statement: 'One visit fee for each trip, and none for coming back.',
  severity: 'owed',
  source: 'Common practice, no source',
  judge: ({ documents, visits }, prices) => {
    const fees = billedTogether(documents).flatMap((visit) => chargedFees(visit, prices));
    if (documents.some(isOneSum)) return cannotJudge('split_of_charge');
    if (fees.length === 0) return clear;
    if (visits === undefined) return cannotJudge('visits');
    const trips = visits.filter(hasFee);
    const tooMany = withoutTrip(fees, trips);
    return flaggedFor(
      tooMany
        .filter(({ leftCents }) => leftCents > 0)
        .map(({ document, leftCents }) => ({
          sentence: sentenceOf(document, leftCents, trips.length),
          correction: feeNotOwed(document),
        })),
      tooMany.filter(({ leftCents }) => leftCents <= 0).map(({ document }) => feeNotOwed(document)),
    );
  },
};

interface ChargedFee {
  readonly document: JobDocument;
  readonly leftCents: number;
  /** As it was told, before discounts and credits. */
  readonly toldCents: number;
  /** All of it was given back, and not because it was too dear or a yes credits it. */
  readonly isGivenBack: boolean;
}

function chargedFees(visit: readonly JobDocument[], prices: JobPrices): ChargedFee[] {
  return visit.flatMap((document) =>
    chargesOf(document)
      // A fee that was credited, discounted or given back was charged all the same.
      .filter(({ line }) => line.priceClass === 'visit_fee' && line.amountCents > 0)
      .map(({ line, leftCents }) => ({
        document,
        leftCents,
        toldCents: line.amountCents,
        isGivenBack: feeOf(document, visit, prices)?.isWaived ?? false,
      })),
  );
}

/** A sum in which a fee may stand that is not told. */
function isOneSum({ kind, lines }: JobDocument): boolean {
  const tells = (name: string) => lines.some(({ priceClass }) => priceClass === name);
  return kind === 'bill' && tells('lump') && !tells('visit_fee');
}

function hasFee({ purpose, state, sameTripAs, feeCents }: JobVisit): boolean {
  const isTrip = state !== 'cancelled' && state !== 'no_access';
  return purpose === 'call' && isTrip && sameTripAs === null && feeCents > 0;
}

/** The fees for which no trip is left, those first matched that a trip was told. */
function withoutTrip(fees: readonly ChargedFee[], trips: readonly JobVisit[]): ChargedFee[] {
  const left = trips.map(({ feeCents }): number => feeCents).toSorted((one, other) => one - other);
  const unmatched = fees.toSorted(acceptedFirst).filter(({ toldCents }) => {
    const at = left.indexOf(toldCents);
    if (at >= 0) left.splice(at, 1);
    return at < 0;
  });
  return unmatched.slice(left.length);
}

function acceptedFirst(one: ChargedFee, other: ChargedFee): number {
  return rank(one) - rank(other) || (place(one) < place(other) ? -1 : 1);
}

/** What was given back already is one too many before any other is. */
function rank({ document, isGivenBack }: ChargedFee): number {
  if (isGivenBack) return 2;
  return document.kind === 'visit_fee' ? 1 : 0;
}

function place({ document: { invoiceId, position } }: ChargedFee): string {
  return `${invoiceId} ${String(position).padStart(6, '0')}`;
}

function sentenceOf({ kind, title }: JobDocument, leftCents: number, trips: number): string {
  const each = trips === 1 ? 'one trip with a fee' : `${trips} trips with a fee`;
  const had = trips === 0 ? 'no trip with a fee' : each;
  // A fee by itself is called by its day.
  const fee = kind === 'visit_fee' ? title.replace(/^t/, 'T') : `The visit fee of ${title}`;
  return `${fee} is one too many: the job had ${had}, and ${dollarsText(leftCents)} of it is charged.`;
}
