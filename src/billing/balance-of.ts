import { type Cents, cents } from '../pricing/index.ts';

/** What happened to an invoice's money; voided payments do not count as paid. */
export interface Money {
  readonly totalCents: number;
  readonly creditedCents: number;
  readonly paidCents: number;
  readonly refundedCents: number;
}

/** What the customer still owes; below zero, what we owe the customer. */
export function balanceOf({ totalCents, creditedCents, paidCents, refundedCents }: Money): Cents {
  return cents(totalCents - creditedCents - paidCents + refundedCents);
}
