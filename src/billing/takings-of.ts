import { addCents, type Cents, cents } from '../pricing/index.ts';

/** How money changes hands. */
export const paymentMethods = ['cash', 'check', 'card', 'bank_transfer'] as const;
export type PaymentMethod = (typeof paymentMethods)[number];

/** One amount that came in, was voided or went back. */
export interface Taking {
  readonly method: PaymentMethod;
  readonly amountCents: number;
}

/** What came in on a day less what was voided and went back on it. */
export interface Takings {
  readonly byMethod: Readonly<Record<PaymentMethod, MethodTakings>>;
  readonly totalCents: Cents;
}

export interface MethodTakings {
  readonly paidCents: Cents;
  readonly voidedCents: Cents;
  readonly refundedCents: Cents;
  readonly netCents: Cents;
}

/** A day's takings by method. A payment of another day that is voided today is taken off today. */
export function takingsOf(day: {
  readonly payments: readonly Taking[];
  readonly voids: readonly Taking[];
  readonly refunds: readonly Taking[];
}): Takings {
  const of = (method: PaymentMethod): MethodTakings => {
    const paidCents = sumOf(day.payments, method);
    const voidedCents = sumOf(day.voids, method);
    const refundedCents = sumOf(day.refunds, method);
    const netCents = cents(paidCents - voidedCents - refundedCents);
    return { paidCents, voidedCents, refundedCents, netCents };
  };
  const byMethod = {
    cash: of('cash'),
    check: of('check'),
    card: of('card'),
    bank_transfer: of('bank_transfer'),
  };
  return { byMethod, totalCents: addCents(Object.values(byMethod).map((each) => each.netCents)) };
}

function sumOf(takings: readonly Taking[], method: PaymentMethod): Cents {
  const own = takings.filter((each) => each.method === method);
  return addCents(own.map(({ amountCents }) => cents(amountCents)));
}
