import { type Charge, plainCharge } from './charge.ts';
import type { TimeCharge, TimeCharger } from './charge-time.ts';
import { compareText } from './compare-text.ts';
import { accessKey } from './line-keys.ts';
import type { EarlierWork, WorkItem } from './pricing-inputs.ts';
import { wholeRatio } from './ratio.ts';
import { chargesTime } from './what-is-charged.ts';
import { whyInput, whyStep } from './why.ts';
import { codeText, minutesText } from './words.ts';

/**
 * One line per access group of a system: the longest minutes among its charged tasks, once per
 * visit. What an earlier document of the visit charged for the same way is not charged again.
 */
export function chargeAccess(
  systemId: string,
  ordered: readonly WorkItem[],
  priceTime: TimeCharger,
  earlier: EarlierWork['access'],
): Charge[] {
  const groups = new Map<string, WorkItem[]>();
  for (const work of ordered) {
    if (work.systemId !== systemId || !chargesTime(work)) continue;
    const group = groups.get(work.accessGroup);
    if (group === undefined) groups.set(work.accessGroup, [work]);
    else group.push(work);
  }
  return [...groups]
    .toSorted(([a], [b]) => compareText(a, b))
    .flatMap(([accessGroup, members]) => {
      const need = Math.max(...members.map((work) => work.accessMinutes));
      const paid = minutesPaid(systemId, accessGroup, earlier);
      if (need <= paid) return [];
      const charge =
        paid === 0 ? wholeAccess(need, priceTime) : restOfAccess(need, paid, priceTime);
      return [accessCharge(systemId, accessGroup, members, need - paid, charge)];
    });
}

function minutesPaid(
  systemId: string,
  accessGroup: string,
  earlier: EarlierWork['access'],
): number {
  const same = earlier.filter(
    (access) => access.systemId === systemId && access.accessGroup === accessGroup,
  );
  return Math.max(0, ...same.map(({ minutes }) => minutes));
}

function wholeAccess(need: number, priceTime: TimeCharger): TimeCharge {
  const { amountCents, cost, why } = priceTime(need);
  const sentence = `${why.sentence} Charged once for all work behind it.`;
  return { amountCents, cost, why: { ...why, sentence } };
}

function restOfAccess(need: number, paid: number, priceTime: TimeCharger): TimeCharge {
  const rest = need - paid;
  const restStep = whyStep('minutes not charged yet', wholeRatio(rest), 'minutes', [
    whyInput('time of the price book', need, 'minutes'),
    whyInput('charged already on this visit', paid, 'minutes'),
  ]);
  const { amountCents, cost, why } = priceTime(rest, restStep);
  const words = `${minutesText(need)} of access, less ${minutesText(paid)} charged already on this visit`;
  return { amountCents, cost, why: { ...why, sentence: `${words}: ${why.sentence}` } };
}

function accessCharge(
  systemId: string,
  accessGroup: string,
  members: readonly WorkItem[],
  minutes: number,
  { amountCents, cost, why }: TimeCharge,
): Charge {
  return plainCharge({
    line: {
      key: accessKey(systemId, accessGroup),
      kind: 'access',
      class: 'access',
      code: accessGroup,
      description: `Access: ${codeText(accessGroup)}`,
      findingIds: members.map((work) => work.findingId),
      systemId,
      minutes,
      amountCents,
      why,
    },
    taxClass: 'access',
    fixedBy: undefined,
    floor: cost,
  });
}
