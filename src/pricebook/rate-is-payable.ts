import { cents } from '../platform/http/formats.ts';
import { laborRateCents, NotCentsError, rateInputsSchema } from '../pricing/index.ts';

/**
 * Whether the rates give a labor rate that the columns of prices can hold. Rates that are wrong in
 * themselves pass, because their own mistakes say more: nothing can be reckoned from a margin of
 * the whole price or from no hours.
 */
export function rateIsPayable(rates: unknown): boolean {
  const read = rateInputsSchema.safeParse(rates);
  if (!read.success) return true;
  try {
    return cents.safeParse(laborRateCents(read.data)).success;
  } catch (error) {
    if (error instanceof NotCentsError) return false;
    throw error;
  }
}
