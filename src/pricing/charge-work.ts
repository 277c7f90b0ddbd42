import { type Cents, cents } from './cents.ts';
import type { Charge } from './charge.ts';
import { costOfTime, type TimeCharger } from './charge-time.ts';
import { accessKey, laborKey, partKey } from './line-keys.ts';
import type { PartPricer } from './part-price.ts';
import type { PartUse, RemedyClass, WorkItem } from './pricing-inputs.ts';
import { type Ratio, wholeRatio } from './ratio.ts';
import { type Why, whyInput, whyStep } from './why.ts';
import { codeText, dollarsText } from './words.ts';

export interface WorkPricers {
  readonly costPerHour: Ratio;
  readonly priceTime: TimeCharger;
  readonly pricePart: PartPricer;
}

/**
 * The charges of an option's work in canonical order: by system, then task code, then finding id,
 * compared character by character. Each task gives its parts by code and then its labor; a
 * system's access lines follow its tasks, by group.
 */
export function chargeWork(work: readonly WorkItem[], pricers: WorkPricers): Charge[] {
  const ordered = work.toSorted(inCanonicalOrder);
  const charges: Charge[] = [];
  ordered.forEach((item, at) => {
    charges.push(...chargeTask(item, pricers));
    if (ordered[at + 1]?.systemId !== item.systemId) {
      charges.push(...chargeAccess(item.systemId, ordered, pricers));
    }
  });
  return charges;
}

/** What a remedy class lets the company charge, when the work is not a recall. */
const chargedByClass: Record<RemedyClass, 'materials_and_time' | 'materials' | 'nothing'> = {
  reset: 'materials',
  clean: 'materials_and_time',
  adjust: 'materials_and_time',
  repair: 'materials_and_time',
  replace: 'materials_and_time',
  accessory: 'materials_and_time',
  diagnose: 'materials_and_time',
  advise: 'nothing',
};

const recallSentence =
  'No charge: the same fault of this system came back within our labor warranty.';
const warrantySentence = 'No charge: the part is under the manufacturer’s warranty.';
const resetSentence = 'No labor is charged for a reset.';

function inCanonicalOrder(a: WorkItem, b: WorkItem): number {
  return (
    compareText(a.systemId, b.systemId) ||
    compareText(a.taskCode, b.taskCode) ||
    compareText(a.findingId, b.findingId)
  );
}

/** By UTF-16 code unit: the order of a language would differ between machines. */
function compareText(a: string, b: string): number {
  if (a === b) return 0;
  return a < b ? -1 : 1;
}

function chargeTask(work: WorkItem, pricers: WorkPricers): Charge[] {
  if (chargedByClass[work.remedyClass] === 'nothing') return [];
  const parts = work.parts.toSorted((a, b) => compareText(a.code, b.code));
  return [...parts.map((part) => chargePart(work, part, pricers)), chargeLabor(work, pricers)];
}

function chargePart(work: WorkItem, part: PartUse, pricers: WorkPricers): Charge {
  const isFree = work.recall || part.underManufacturerWarranty;
  const { unitPriceCents, why } = isFree ? freePart(work, part) : pricedPart(part, pricers);
  return {
    line: {
      key: partKey(work, part),
      kind: 'part',
      class: 'part',
      code: part.code,
      description: part.name,
      findingId: work.findingId,
      systemId: work.systemId,
      taskCode: work.taskCode,
      quantity: part.quantity,
      unitPriceCents,
      amountCents: cents(unitPriceCents * part.quantity),
      why,
    },
    isFree,
    floor: costOfPart(part),
    discounts: [],
    adjustments: [],
    credits: [],
  };
}

function pricedPart(part: PartUse, pricers: WorkPricers): { unitPriceCents: Cents; why: Why } {
  const { unitPriceCents, why: unitPriceWhy } = pricers.pricePart(part.unitCostCents);
  const amountCents = cents(unitPriceCents * part.quantity);
  const each = dollarsText(unitPriceCents);
  return {
    unitPriceCents,
    why: {
      sentence:
        part.quantity === 1
          ? `One at ${each}.`
          : `${part.quantity} x ${each} each = ${dollarsText(amountCents)}.`,
      steps: [
        whyStep('quantity x unit price', wholeRatio(amountCents), 'cents', [
          whyInput('quantity', part.quantity, 'count'),
          whyInput('unit price', unitPriceCents, 'cents'),
        ]),
      ],
      owner: [unitPriceWhy, costStepOfPart(part)],
    },
  };
}

function freePart(work: WorkItem, part: PartUse): { unitPriceCents: Cents; why: Why } {
  const sentence = work.recall ? recallSentence : warrantySentence;
  return {
    unitPriceCents: cents(0),
    why: {
      sentence,
      steps: [whyInput('quantity', part.quantity, 'count')],
      owner: [costStepOfPart(part)],
    },
  };
}

function costStepOfPart(part: PartUse) {
  return whyStep('cost of the parts', costOfPart(part), 'cents', [
    whyInput('unit cost', part.unitCostCents, 'cents'),
    whyInput('quantity', part.quantity, 'count'),
  ]);
}

function costOfPart(part: PartUse): Ratio {
  return { numerator: BigInt(part.unitCostCents) * BigInt(part.quantity), denominator: 1n };
}

function chargeLabor(work: WorkItem, pricers: WorkPricers): Charge {
  const isFree = !chargesTime(work);
  const { amountCents, why } = isFree ? freeLabor(work, pricers) : pricers.priceTime(work.minutes);
  return {
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
    isFree,
    floor: costOfTime(work.minutes, pricers.costPerHour),
    discounts: [],
    adjustments: [],
    credits: [],
  };
}

function freeLabor(work: WorkItem, pricers: WorkPricers): { amountCents: Cents; why: Why } {
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

/** Whether the work's labor, and with it its access, is charged at all. */
function chargesTime(work: WorkItem): boolean {
  return !work.recall && chargedByClass[work.remedyClass] === 'materials_and_time';
}

/** One line per access group of a system: the longest minutes among its charged tasks, once. */
function chargeAccess(
  systemId: string,
  ordered: readonly WorkItem[],
  pricers: WorkPricers,
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
    .flatMap(([accessGroup, members]) =>
      chargeAccessGroup(systemId, accessGroup, members, pricers),
    );
}

function chargeAccessGroup(
  systemId: string,
  accessGroup: string,
  members: readonly WorkItem[],
  pricers: WorkPricers,
): Charge[] {
  const minutes = Math.max(...members.map((work) => work.accessMinutes));
  if (minutes === 0) return [];
  const { amountCents, cost, why } = pricers.priceTime(minutes);
  return [
    {
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
        why: { ...why, sentence: `${why.sentence} Charged once for all work behind it.` },
      },
      isFree: false,
      floor: cost,
      discounts: [],
      adjustments: [],
      credits: [],
    },
  ];
}
