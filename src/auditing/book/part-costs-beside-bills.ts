import { type Cents, cents, dollarsText } from '../../pricing/index.ts';
import { dayText } from '../rules/day-text.ts';
import { median } from '../statistics/median.ts';

/** A part of the price book in force. */
export interface BookPart {
  readonly name: string;
  /** Of one piece or, when measured, of one pack. */
  readonly costCents: Cents;
}

/** What a supplier billed for one piece, or for one pack, without freight and tax. */
export interface BilledCost {
  readonly partCode: string;
  /** Local day. */
  readonly billedOn: string;
  readonly unitCostCents: Cents;
}

export interface PartBesideBills {
  readonly partCode: string;
  readonly name: string;
  readonly bookCents: Cents;
  readonly bills: number;
  readonly latestCents: Cents | null;
  readonly latestOn: string | null;
  /** In the middle of all bills, to the nearest cent, an exact half up. */
  readonly medianCents: Cents | null;
  /** How far the book is above the dearer of both; 0 where it is not. */
  readonly overCents: Cents;
  readonly standing: 'no_bills' | 'like_bills' | 'above_bills' | 'below_bills';
  readonly sentence: string;
}

/** Costs go up and down by so much without anybody touching the book: common practice, no source. */
const TOLERANCE_PERCENT = 10;

/**
 * The book's cost of each part beside what suppliers billed, so that a padded cost does not pass.
 * Bills are what was paid, so nothing here is chance. A book is above them where it is above both the
 * last bill and the middle of all: neither one cheap lot nor an old price speaks against it.
 * @param bills of a year, say; of two on one day the later in the list is the last
 */
export function partCostsBesideBills(
  bills: Iterable<BilledCost>,
  book: ReadonlyMap<string, BookPart>,
): PartBesideBills[] {
  const billsOf = new Map<string, BilledCost[]>();
  for (const bill of bills) {
    const known = billsOf.get(bill.partCode);
    if (known === undefined) billsOf.set(bill.partCode, [bill]);
    else known.push(bill);
  }
  return [...book].map(([partCode, part]) =>
    besideBills(partCode, part, billsOf.get(partCode) ?? []),
  );
}

function besideBills(
  partCode: string,
  { name, costCents: bookCents }: BookPart,
  bills: readonly BilledCost[],
): PartBesideBills {
  const latest = latestOf(bills);
  const part = { partCode, name, bookCents, bills: bills.length };
  if (latest === undefined) {
    const sentence = `${name}: the book has ${dollarsText(bookCents)}. No supplier bill names it.`;
    const unknown = { latestCents: null, latestOn: null, medianCents: null };
    return { ...part, ...unknown, overCents: cents(0), standing: 'no_bills', sentence };
  }
  const { unitCostCents: latestCents, billedOn: latestOn } = latest;
  const medianCents = cents(Math.round(median(bills.map((bill) => bill.unitCostCents))));
  const standing = standingOf(bookCents, latestCents, medianCents);
  const over = standing === 'above_bills' ? bookCents - Math.max(latestCents, medianCents) : 0;
  const billed = { latestCents, latestOn, medianCents, overCents: cents(over), standing };
  return { ...part, ...billed, sentence: sentenceOf({ ...part, ...billed }) };
}

function latestOf(bills: readonly BilledCost[]): BilledCost | undefined {
  return bills.reduce<BilledCost | undefined>(
    (latest, bill) => (latest !== undefined && latest.billedOn > bill.billedOn ? latest : bill),
    undefined,
  );
}

function standingOf(
  book: number,
  latest: number,
  middle: number,
): Exclude<PartBesideBills['standing'], 'no_bills'> {
  if (book * 100 > Math.max(latest, middle) * (100 + TOLERANCE_PERCENT)) return 'above_bills';
  if (book * (100 + TOLERANCE_PERCENT) < Math.min(latest, middle) * 100) return 'below_bills';
  return 'like_bills';
}

interface Billed extends Pick<PartBesideBills, 'name' | 'bookCents' | 'bills' | 'standing'> {
  readonly latestCents: Cents;
  readonly latestOn: string;
  readonly medianCents: Cents;
}

function sentenceOf({
  name,
  bookCents,
  bills,
  latestCents,
  latestOn,
  medianCents,
  standing,
}: Billed) {
  const book = `${name}: the book has ${dollarsText(bookCents)}`;
  const latest = `the last supplier bill of ${dayText(latestOn)} ${dollarsText(latestCents)}`;
  const middle =
    bills === 1
      ? 'and there is no other'
      : `and the middle of ${bills} bills is ${dollarsText(medianCents)}`;
  const asked = standing === 'like_bills' ? '' : ' Please look at whether the book is right.';
  return `${book}, ${latest}, ${middle}.${asked}`;
}
