import { dollarsText } from '../pricing/index.ts';
import { UNIT_COST_CENTS_MAX } from './billed-unit-cost.ts';
import type { NewBill } from './contract.ts';
import { isWhole, thousandthsOf } from './quantity.ts';

/** A part of the price book as a bill's line is held against it. */
export interface BookPart {
  name: string;
  /** Null for what is counted in pieces. */
  packQuantity: string | null;
}

/** What bills are held against. */
export interface BillFacts {
  /** Parts of the price book in force, by code. */
  parts: ReadonlyMap<string, BookPart>;
  /** On the company's calendar. */
  today: string;
}

/** Something wrong with a bill: in which line, counted from 0, or in its head. */
export interface BillMistake {
  line?: number;
  field: 'billedOn' | 'totalCents' | 'partCode' | 'quantity' | 'amountCents';
  code: string;
  message: string;
}

/** Everything that is wrong with a bill whose fields have the right form. */
export function billMistakes(bill: NewBill, { parts, today }: BillFacts): BillMistake[] {
  return [
    ...dayMistakes(bill, today),
    ...bill.lines.flatMap((line, at) => lineMistakes(line, at, parts)),
    ...totalMistakes(bill),
  ];
}

/** By how much the total is more than the lines and other charges come to; perhaps negative. */
export function differenceCents({ lines, otherCents, totalCents }: NewBill): number {
  return totalCents - lines.reduce((sum, { amountCents }) => sum + amountCents, otherCents);
}

// The latest bill says what a part costs, so one dated ahead by a slip would say it for years.
function dayMistakes({ billedOn }: NewBill, today: string): BillMistake[] {
  if (billedOn <= today) return [];
  return [{ field: 'billedOn', code: 'in_the_future', message: 'is in the future' }];
}

function totalMistakes(bill: NewBill): BillMistake[] {
  const difference = differenceCents(bill);
  if (difference === 0) return [];
  const comesTo = dollarsText(bill.totalCents - difference);
  const message = `lines and other charges come to ${comesTo}, which is ${dollarsText(Math.abs(difference))} ${difference > 0 ? 'less' : 'more'} than this total`;
  return [{ field: 'totalCents', code: 'does_not_add_up', message }];
}

function lineMistakes(
  { partCode, quantity, amountCents }: NewBill['lines'][number],
  line: number,
  parts: BillFacts['parts'],
): BillMistake[] {
  if (partCode === undefined) return [];
  const part = parts.get(partCode);
  if (part === undefined) {
    return [{ line, field: 'partCode', code: UNKNOWN, message: 'is no part of the price book' }];
  }
  if (part.packQuantity === null && !isWhole(quantity)) {
    const message = 'must be whole: this part is counted in pieces';
    return [{ line, field: 'quantity', code: 'not_whole', message }];
  }
  if (isBeyondReason({ quantity, amountCents }, part)) {
    const message = 'comes to more than twenty million dollars a pack';
    return [{ line, field: 'amountCents', code: 'beyond_reason', message }];
  }
  return [];
}

function isBeyondReason(
  { quantity, amountCents }: { quantity: string; amountCents: number },
  { packQuantity }: BookPart,
): boolean {
  const amount = BigInt(Math.abs(amountCents)) * thousandthsOf(packQuantity ?? '1');
  const billed = thousandthsOf(quantity);
  return amount > BigInt(UNIT_COST_CENTS_MAX) * (billed < 0n ? -billed : billed);
}

/** The code of a mistake that names something which does not exist. */
export const UNKNOWN = 'unknown_reference';
