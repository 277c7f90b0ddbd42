import { cents } from './cents.ts';
import { type Charge, plainCharge } from './charge.ts';
import { visitFeeKey } from './line-keys.ts';
import type { VisitFee } from './pricing-inputs.ts';
import { wholeRatio } from './ratio.ts';
import { whyInput } from './why.ts';
import { dollarsText } from './words.ts';

/**
 * The fee line. It always stands on the paper, at zero when there is no fee (a recall, a parts
 * return), because a customer who remembers a fee should read why there is none.
 */
export function chargeVisitFee(fee: VisitFee): Charge {
  const amountCents = fee.chargeable ? fee.amountCents : cents(0);
  return plainCharge({
    line: {
      key: visitFeeKey,
      kind: 'visit_fee',
      class: 'visit_fee',
      code: 'visit_fee',
      description: 'Visit fee',
      amountCents,
      why: {
        sentence: fee.chargeable
          ? `The fee for this trip, as told when the visit was booked: ${dollarsText(amountCents)}.`
          : `No visit fee: ${fee.reason}.`,
        steps: fee.chargeable ? [whyInput('visit fee as told', amountCents, 'cents')] : [],
        owner: [],
      },
    },
    taxClass: 'visit_fee',
    fixedBy: fee.chargeable ? 'fee_raised' : 'free_line_charged',
    floor: wholeRatio(amountCents),
  });
}
