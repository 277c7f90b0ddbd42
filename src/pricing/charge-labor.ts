import { cents } from './cents.ts';
import { type Charge, plainCharge } from './charge.ts';
import { minutesOfBook, type TimeCharge, type TimeCharger } from './charge-time.ts';
import type { TimeCoster } from './cost-of-time.ts';
import { laborKey } from './line-keys.ts';
import type { WorkItem } from './pricing-inputs.ts';
import { chargesTime, recallSentence } from './what-is-charged.ts';

interface LaborPricers {
  readonly costTime: TimeCoster;
  readonly priceTime: TimeCharger;
}

/** The labor of one task by the minutes of the price book, or free for a reset or a recall. */
export function chargeLabor(work: WorkItem, pricers: LaborPricers): Charge {
  const isFree = !chargesTime(work);
  const { amountCents, cost, why } = isFree
    ? freeLabor(work, pricers)
    : pricers.priceTime(work.minutes);
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
    floor: cost,
  });
}

const resetSentence = 'No labor is charged for a reset.';

function freeLabor(work: WorkItem, { costTime }: LaborPricers): TimeCharge {
  const minutes = minutesOfBook(work.minutes);
  const cost = costTime(work.minutes, minutes);
  return {
    amountCents: cents(0),
    cost: cost.exact,
    why: {
      sentence: work.recall ? recallSentence : resetSentence,
      steps: [minutes],
      owner: [cost.why],
    },
  };
}
