import { adjustCharges } from './adjust-charges.ts';
import { type Cents, NotCentsError } from './cents.ts';
import type { Charge } from './charge.ts';
import { timeCharger } from './charge-time.ts';
import { chargeVisitFee } from './charge-visit-fee.ts';
import { chargeWork, type WorkPricers } from './charge-work.ts';
import { timeCoster } from './cost-of-time.ts';
import { creditVisitFee } from './credit-visit-fee.ts';
import { discountByAgreement } from './discount-by-agreement.ts';
import { discountSecondTasks } from './discount-second-tasks.ts';
import { goodsPricer } from './goods-price.ts';
import { explainLaborRate } from './labor-rate.ts';
import { partPricer } from './part-price.ts';
import type { PricedOption, PricingRefusal, PricingResult } from './priced-quote.ts';
import type { OptionInputs, PricingInputs } from './pricing-inputs.ts';
import { refuseUnfitWork } from './refuse-unfit-work.ts';
import { settleCharges } from './settle-charges.ts';
import { statedAs } from './stated-as.ts';

/**
 * Computes a quote from its complete inputs: the same inputs give the same cents, today and years
 * later. Where a rule forbids something, it answers with every refusal it found instead.
 *
 * The inputs must have passed `pricingInputsSchema`; the engine relies on what it checks.
 */
export function priceQuote(inputs: PricingInputs): PricingResult {
  const unfit = inputs.options.flatMap((option, at) =>
    refuseUnfitWork(option, inputs.tiers, `/options/${at}`),
  );
  if (unfit.length > 0) return { outcome: 'refused', refusals: unfit };
  try {
    return priceFitQuote(inputs);
  } catch (error) {
    if (!(error instanceof NotCentsError)) throw error;
    return { outcome: 'refused', refusals: [amountTooLarge] };
  }
}

const amountTooLarge: PricingRefusal = {
  code: 'amount_too_large',
  message: 'An amount of this quote is too large to be held to the cent.',
  pointer: '',
};

function priceFitQuote(inputs: PricingInputs): PricingResult {
  const rate = explainLaborRate(inputs.rates);
  const costTime = timeCoster(rate.costPerHour);
  const pricers = {
    costTime,
    priceTime: timeCharger(rate, inputs.period, costTime),
    pricePart: partPricer(inputs.tiers),
    priceGood: goodsPricer(inputs.tiers),
  };
  const fee = chargeVisitFee(inputs.visitFee);
  const declined = discountByAgreement([fee], inputs.agreement);
  const decline = settleCharges(declined, inputs.tax, statedAs(declined, inputs.tax));

  const options: PricedOption[] = [];
  const refusals: PricingRefusal[] = [];
  inputs.options.forEach((option, at) => {
    const charged = chargeOption(option, fee, pricers, inputs, `/options/${at}`);
    if (charged.refusals.length > 0) refusals.push(...charged.refusals);
    else options.push(settleOption(option, charged.charges, inputs, decline.totalCents));
  });
  if (refusals.length > 0) return { outcome: 'refused', refusals };
  return {
    outcome: 'priced',
    quote: { laborRateCents: rate.cents, laborRateWhy: rate.why, decline, options },
  };
}

function chargeOption(
  option: OptionInputs,
  fee: Charge,
  pricers: WorkPricers,
  { policy, agreement, earlierWork }: PricingInputs,
  pointer: string,
) {
  const charges = [fee, ...chargeWork(option.work, pricers, earlierWork?.access)];
  const computed = discountByAgreement(
    discountSecondTasks(charges, policy.secondTaskDiscount, earlierWork?.labor),
    agreement,
  );
  return adjustCharges(computed, option.adjustments, policy.fairBandTolerance, pointer);
}

function settleOption(
  option: OptionInputs,
  charges: readonly Charge[],
  { policy, tax }: PricingInputs,
  declineTotalCents: Cents,
): PricedOption {
  const statement = statedAs(charges, tax);
  const { stated } = statement;
  const share = policy.visitFeeCreditShare;
  const credited = creditVisitFee(charges, share, tax, stated, declineTotalCents);
  return { title: option.title, stated, ...settleCharges(credited, tax, statement) };
}
