import { type Cents, cents } from './cents.ts';
import { type Charge, plainCharge } from './charge.ts';
import { costOfTime, type TimeCharger } from './charge-time.ts';
import { laborKey } from './line-keys.ts';
import type { WorkItem } from './pricing-inputs.ts';
import type { Ratio } from './ratio.ts';
import { chargesTime, recallSentence } from './what-is-charged.ts';
import { type Why, whyInput, whyStep } from './why.ts';

interface LaborPricers {
  readonly costPerHour: Ratio;
  readonly priceTime: TimeCharger;
}

/** The labor of one task by the minutes of the price book, or free for a reset or a recall. */
export function chargeLabor(work: WorkItem, pricers: LaborPricers): Charge {
  const isFree = !chargesTime(work);
  const { amountCents, why } = isFree ? freeLabor(work, pricers) : pricers.priceTime(work.minutes);
  return plainCharge({
    line: {
      key: laborKey(work),
      kind: 'labor',
      class: 'labor',
      code: work.taskCode,
      description: work.taskName,
      findingId: work.findingId,
      systemId: work.systemId,
      taskCode: work.taskCode,
      minutes: work.minutes,
      amountCents,
      why,
    },
    taxClass: 'labor',
    fixedBy: isFree ? 'free_line_charged' : undefined,
    floor: costOfTime(work.minutes, pricers.costPerHour),
  });
}

const resetSentence = 'No labor is charged for a reset.';

function freeLabor(work: WorkItem, pricers: LaborPricers): { amountCents: Cents; why: Why } {
  const minutes = whyInput('time of the price book', work.minutes, 'minutes');
  const cost = costOfTime(work.minutes, pricers.costPerHour);
  return {
    amountCents: cents(0),
    why: {
      sentence: work.recall ? recallSentence : resetSentence,
      steps: [minutes],
      owner: [whyStep('cost of the time', cost, 'cents', [minutes])],
    },
  };
}
