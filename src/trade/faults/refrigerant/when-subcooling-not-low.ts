import { subcoolingState } from '../../facts/circuit-state.ts';
import { remembered } from '../../facts/remembered-for.ts';
import type { Condition } from '../../verdicts/weigh-together.ts';
import { whenStateNot } from '../../verdicts/when-state-not.ts';

/** That the condenser holds liquid enough, be it usual or too much: then the charge is not low. */
export const whenSubcoolingNotLow = remembered((facts): Condition => {
  return whenStateNot(subcoolingState(facts), 'low');
});
