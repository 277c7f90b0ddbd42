import { filterDrierDropDegFMax, filterDrierDropOf } from '../../facts/filter-drier-drop.ts';
import { remembered } from '../../facts/remembered-for.ts';
import type { Condition } from '../../verdicts/weigh-together.ts';
import { whenMeasured } from '../../verdicts/when-measured.ts';
import { whenObserved } from '../../verdicts/when-observed.ts';

/**
 * That no filter drier holds the liquid back, for a restriction starves the coil like a low charge:
 * it takes no drop, or none is fitted.
 */
export const whenDrierClear = remembered((facts): Condition => {
  const drop = whenMeasured(
    filterDrierDropOf(facts),
    'drop across the filter drier',
    'below',
    filterDrierDropDegFMax,
  );
  const none = whenObserved(facts, 'filter_drier_fitted', 'no');
  return drop.readingIds.length === 0 && none.state === 'holds' ? none : drop;
});
