import { filterDrierDropDegFMax, filterDrierDropOf } from '../../facts/filter-drier-drop.ts';
import { remembered } from '../../facts/remembered-for.ts';
import type { Condition } from '../../verdicts/weigh-together.ts';
import { whenMeasured } from '../../verdicts/when-measured.ts';

/** That the filter drier lets the liquid through: a restriction starves the coil like a low charge. */
export const whenDrierClear = remembered((facts): Condition => {
  return whenMeasured(
    filterDrierDropOf(facts),
    'drop across the filter drier',
    'below',
    filterDrierDropDegFMax,
  );
});
