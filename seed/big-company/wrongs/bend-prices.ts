import { cents, type PricingInputs } from '../../../src/pricing/index.ts';
import { adjusted } from '../turns/adjust-of-turn.ts';
import type { Means } from './wrong.ts';

/** Inputs of a price bent the way somebody would bend them, each by one lever. */
export const bendPrices = {
  /** Labor for what was only put back on. */
  resetAsRepair: (inputs, { random }) =>
    eachWork(inputs, (work) =>
      work.remedyClass === 'reset'
        ? { ...work, remedyClass: 'repair', minutes: random.int(30, 60) }
        : work,
    ),
  /** Work that nobody found a reason for. */
  workFromNowhere: (inputs, { makeId, at }) => ({
    ...inputs,
    options: inputs.options.map((option) => ({
      ...option,
      work: option.work.flatMap((work, index) =>
        index === 0 ? [work, { ...ADDED, findingId: makeId(at), systemId: work.systemId }] : [work],
      ),
    })),
  }),
  moreMinutes: (inputs, { random }) => {
    const factor = random.between(1.4, 2);
    return eachWork(inputs, (work) => ({ ...work, minutes: Math.round(work.minutes * factor) }));
  },
  dearerParts: (inputs, { random }) => {
    const factor = random.between(1.4, 2.5);
    return eachWork(inputs, (work) => ({
      ...work,
      parts: work.parts.map((part) => ({
        ...part,
        unitCostCents: cents(Math.round(part.unitCostCents * factor)),
      })),
    }));
  },
  dearerHour: (inputs, { random }) => ({
    ...inputs,
    period: {
      ...inputs.period,
      laborFactor: (Number(inputs.period.laborFactor) * random.between(1.2, 1.5)).toFixed(2),
    },
  }),
  noCredit: (inputs) => ({ ...inputs, policy: { ...inputs.policy, visitFeeCreditShare: '0' } }),
  noWarranty: (inputs) =>
    eachWork(inputs, (work) => ({
      ...work,
      parts: work.parts.map((part) => ({ ...part, underManufacturerWarranty: false })),
    })),
  noRecall: (inputs, { feeCents }) => ({
    ...eachWork(inputs, (work) => ({ ...work, recall: false })),
    visitFee: { chargeable: true, amountCents: cents(feeCents) },
  }),
  /** Our own work that came back is charged, though nobody asks for the fee. */
  noRecallOfWork: (inputs) => eachWork(inputs, (work) => ({ ...work, recall: false })),
  accessAgain: (inputs) => ({
    ...inputs,
    ...(inputs.earlierWork && { earlierWork: { ...inputs.earlierWork, access: [] } }),
  }),
  afterHours: (inputs, { periods }) => {
    const evening = periods.find(({ hours }) => hours === null);
    if (evening === undefined) return inputs;
    return { ...inputs, period: { code: evening.code, laborFactor: evening.laborFactor } };
  },
  /** Beyond what anybody but the owner may, as if the owner had. */
  raisedByHand: (inputs, { random }) => adjusted(inputs, true, random.between(0.1, 0.5)),
  feeApart: (inputs) => ({
    ...inputs,
    visitFee: { chargeable: false, reason: 'billed by itself' },
  }),
  otherTax: (inputs, { random }) => {
    const { tax } = inputs;
    const isHigher = tax.taxableClasses.includes('labor') || random.chance(0.5);
    return {
      ...inputs,
      tax: isHigher
        ? { ...tax, rate: (Number(tax.rate) + 0.0125).toFixed(4) }
        : { ...tax, taxableClasses: [...tax.taxableClasses, 'labor'] },
    };
  },
} satisfies Record<string, (inputs: PricingInputs, by: Means) => PricingInputs>;

type Work = PricingInputs['options'][number]['work'][number];

function eachWork(inputs: PricingInputs, bend: (work: Work) => Work): PricingInputs {
  return {
    ...inputs,
    options: inputs.options.map((option) => ({ ...option, work: option.work.map(bend) })),
  };
}

const ADDED: Omit<Work, 'findingId' | 'systemId'> = {
  faultCode: 'burnt_line_connection',
  taskCode: 'remake_line_connection',
  taskName: 'Remake a connection of the supply',
  remedyClass: 'repair',
  minutes: 30,
  accessGroup: 'outdoor_unit_cabinet',
  accessMinutes: 10,
  parts: [],
  recall: false,
};
