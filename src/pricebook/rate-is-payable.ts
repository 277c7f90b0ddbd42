import { cents } from '../platform/http/formats.ts';
import { laborRateCents, NotCentsError, type RateInputs } from '../pricing/index.ts';

/** Whether the rates give a labor rate that the columns of prices can hold. */
export function rateIsPayable(rates: RateInputs): boolean {
  try {
    return cents.safeParse(laborRateCents(rates)).success;
  } catch (error) {
    if (error instanceof NotCentsError) return false;
    throw error;
  }
}
