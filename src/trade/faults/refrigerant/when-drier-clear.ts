import type { Facts } from '../../facts/admit-evidence.ts';
import { filterDrierDropDegFMax, filterDrierDropOf } from '../../facts/filter-drier-drop.ts';
import type { Condition } from '../../verdicts/weigh-together.ts';
import { whenMeasured } from '../../verdicts/when-measured.ts';

/** That the filter drier lets the liquid through: a restriction starves the coil like a low charge. */
export function whenDrierClear(facts: Facts): Condition {
  return whenMeasured(
    filterDrierDropOf(facts),
    'drop across the filter drier',
    'below',
    filterDrierDropDegFMax,
  );
}
