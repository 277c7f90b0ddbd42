import type { Facts } from '../facts/admit-evidence.ts';
import { chargeAgainstAskedOf, chargePercent } from '../facts/charge-against-asked.ts';
import {
  type CircuitState,
  headState,
  type StateClass,
  stateClass,
  subcoolingState,
  suctionState,
  superheatState,
} from '../facts/circuit-state.ts';
import { filterDrierDropDegFMax, filterDrierDropOf } from '../facts/filter-drier-drop.ts';
import { sideOf } from '../facts/side-of.ts';
import { whenCircuitReadable } from '../faults/refrigerant/when-circuit-readable.ts';
import type { SignReader } from './sign-reader.ts';

type RefrigerantSign =
  | 'suction'
  | 'head'
  | 'superheat'
  | 'subcooling'
  | 'filter_drier_drop'
  | 'charge';

export const refrigerantSignReaders = {
  suction: (facts) => readState(facts, suctionState),
  head: (facts) => readState(facts, headState),
  superheat: (facts) => readState(facts, superheatState),
  subcooling: (facts) => readState(facts, subcoolingState),
  filter_drier_drop: readDrierDrop,
  charge: readCharge,
} satisfies { [Code in RefrigerantSign]: SignReader<Code> };

/** In a circuit at rest, iced, heating or driven by an inverter the states say nothing. */
function readState(facts: Facts, stateOf: (facts: Facts) => CircuitState): StateClass | undefined {
  const isUnreadable = whenCircuitReadable(facts).some(({ state }) => state === 'fails');
  return isUnreadable ? undefined : stateClass(stateOf(facts));
}

function readDrierDrop(facts: Facts): 'high' | 'fine' | undefined {
  const side = sideOf(filterDrierDropOf(facts), filterDrierDropDegFMax);
  return side === 'above' ? 'high' : side === 'below' ? 'fine' : undefined;
}

function readCharge(facts: Facts): 'low' | 'fine' | 'over' | undefined {
  const charge = chargeAgainstAskedOf(facts);
  if (sideOf(charge, chargePercent.low) === 'below') return 'low';
  if (sideOf(charge, chargePercent.high) === 'above') return 'over';
  const isFine =
    sideOf(charge, chargePercent.low) === 'above' && sideOf(charge, chargePercent.high) === 'below';
  return isFine ? 'fine' : undefined;
}
