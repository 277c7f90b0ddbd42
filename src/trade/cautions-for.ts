import type { Machine } from './evidence.ts';
import { type FaultCode, faults } from './faults/catalog.ts';
import { knownRefrigerant } from './refrigerant/known-refrigerant.ts';
import { a2lCautions, serviceCautions } from './refrigerant/service-cautions.ts';
import { handlesRefrigerant } from './words/tasks.ts';

/**
 * What to mind while mending a fault on these machines, the fault's own cautions first. Where a
 * remedy opens the refrigerant circuit or moves its charge, what its refrigerant asks for follows.
 * One plate of the system that speaks of a flammable one is enough: to be wrong here burns.
 */
export function cautionsFor(faultCode: FaultCode, machines: readonly Machine[]): string[] {
  const { cautions, remedies } = faults[faultCode];
  const movesRefrigerant = remedies.some(({ task }) => handlesRefrigerant(task));
  return [...cautions, ...(movesRefrigerant ? ofRefrigerant(machines) : [])];
}

function ofRefrigerant(machines: readonly Machine[]): readonly string[] {
  const named = machines.flatMap(({ nameplate: { refrigerant } }) => refrigerant ?? []);
  const known = named.flatMap((each) => knownRefrigerant(each) ?? []);
  const isFlammable =
    machines.some(({ nameplate }) => nameplate.markedForA2l) ||
    known.some((each) => serviceCautions(each).length > 0);
  if (isFlammable) return a2lCautions;
  // Some that are not in our tables burn far more easily, such as R-290.
  return named.length > 0 && known.length === named.length ? [] : [readTheName];
}

const readTheName =
  'Read on the nameplate which refrigerant is inside and whether it can burn, before you open the circuit.';
