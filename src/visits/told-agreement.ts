import { feeAfterDiscount } from '../agreements/index.ts';
import type { Visit } from '../platform/database/generated/client.ts';
import type { Agreement } from '../pricing/index.ts';
import { type FeeAgreement, feeAgreementSchema } from './contract.ts';

/**
 * The agreement by whose discount the caller was told the fee, as it was at the booking and with
 * nothing but that discount: what else it gives is a matter of the day the work is priced.
 */
export function toldAgreement(visit: Pick<Visit, 'feeAgreement'>): Agreement | undefined {
  const told = feeAgreementOf(visit);
  if (told === null) return undefined;
  return { code: told.code, name: told.name, discounts: { visit_fee: told.share } };
}

/** The most that any quote of a visit charges for the fee before tax, in cents. */
export function toldFeeCents(visit: Pick<Visit, 'feeCents' | 'feeAgreement'>): number {
  const told = toldAgreement(visit);
  return told === undefined ? visit.feeCents : feeAfterDiscount(visit.feeCents, told);
}

export function feeAgreementOf({ feeAgreement }: Pick<Visit, 'feeAgreement'>): FeeAgreement | null {
  return feeAgreementSchema.nullable().parse(feeAgreement);
}
