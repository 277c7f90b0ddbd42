import type { OtherBook, PricingInputs } from '../../src/pricing/index.ts';
import type { OtherPart } from '../../src/pricing/substitute-book.ts';

/** A price book in which the work stands as it was priced; of twins the last counts. */
export function bookOf(inputs: PricingInputs): OtherBook {
  const work = inputs.options.flatMap((option) => option.work);
  const pieces = work.flatMap(({ parts }) =>
    parts.map((part): [string, OtherPart] => [
      part.code,
      {
        name: part.name,
        costCents: part.unitCostCents,
        taxClass: part.taxClass ?? 'part',
        warranted: true,
      },
    ]),
  );
  const measured = work.flatMap(({ goods = [] }) =>
    goods.map((good): [string, OtherPart] => [
      good.code,
      {
        name: good.name,
        costCents: good.packCostCents,
        taxClass: good.taxClass ?? 'part',
        warranted: false,
        measured: { unit: good.unit, packQuantity: good.packQuantity },
      },
    ]),
  );
  const { rates, tiers, policy, period, agreement } = inputs;
  return {
    rates,
    tiers,
    policy,
    periods: new Map([[period.code, period]]),
    tasks: new Map(work.map((each) => [each.taskCode, { ...each, name: each.taskName }])),
    parts: new Map([...pieces, ...measured]),
    agreements: new Map(agreement ? [[agreement.code, agreement]] : []),
  };
}
