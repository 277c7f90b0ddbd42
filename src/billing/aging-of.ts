import { addCents, type Cents, cents } from '../pricing/index.ts';

/** By how many days an invoice is past the day it was due. */
export const agingBuckets = [
  'not_due',
  'days_1_30',
  'days_31_60',
  'days_61_90',
  'over_90_days',
] as const;
export type AgingBucket = (typeof agingBuckets)[number];

/** What is open of one invoice, or of several that were due on one day. */
export interface OpenBalance {
  /** As `2026-07-14`; on that day it is not overdue yet. */
  readonly dueOn: string;
  /** Below zero, what we owe. */
  readonly balanceCents: number;
}

/** What is owed to us by how long it is overdue, and what we owe back, never set off against it. */
export interface Aging<I extends OpenBalance> {
  readonly owedCents: Readonly<Record<AgingBucket, Cents>>;
  readonly owedTotalCents: Cents;
  readonly owedBackCents: Cents;
  readonly balances: readonly (I & { daysOverdue: number; bucket: AgingBucket })[];
}

/** Open balances sorted into the days they are overdue by, on a day. */
export function agingOf<I extends OpenBalance>(open: readonly I[], asOf: string): Aging<I> {
  const balances = open
    .filter(({ balanceCents }) => balanceCents !== 0)
    .map((balance) => {
      const daysOverdue = Math.max(daysBetween(balance.dueOn, asOf), 0);
      return { ...balance, daysOverdue, bucket: bucketOf(daysOverdue) };
    });
  const owed = (bucket: AgingBucket) =>
    sum(balances.filter((each) => each.bucket === bucket && each.balanceCents > 0));
  return {
    owedCents: {
      not_due: owed('not_due'),
      days_1_30: owed('days_1_30'),
      days_31_60: owed('days_31_60'),
      days_61_90: owed('days_61_90'),
      over_90_days: owed('over_90_days'),
    },
    owedTotalCents: sum(balances.filter(({ balanceCents }) => balanceCents > 0)),
    owedBackCents: cents(-sum(balances.filter(({ balanceCents }) => balanceCents < 0))),
    balances,
  };
}

function bucketOf(daysOverdue: number): AgingBucket {
  if (daysOverdue === 0) return 'not_due';
  if (daysOverdue <= 30) return 'days_1_30';
  if (daysOverdue <= 60) return 'days_31_60';
  return daysOverdue <= 90 ? 'days_61_90' : 'over_90_days';
}

const DAY_MS = 86_400_000;

/** Calendar days, whatever the clocks did in between. */
function daysBetween(from: string, to: string): number {
  return Math.round((Date.parse(`${to}T00:00:00Z`) - Date.parse(`${from}T00:00:00Z`)) / DAY_MS);
}

function sum(balances: readonly { balanceCents: number }[]): Cents {
  return addCents(balances.map(({ balanceCents }) => cents(balanceCents)));
}
