import { coilDropInH2O, filterDropInH2O } from '../air/pressure-drops.ts';
import type { Facts } from '../facts/admit-evidence.ts';
import { splitOf } from '../facts/air-state.ts';
import { splitState, stateClass } from '../facts/circuit-state.ts';
import { blowerStaticLimit, blowerStaticOf, pressureAcross } from '../facts/duct-pressure.ts';
import type { Settled } from '../facts/measured.ts';
import { compareWithLimit } from '../uncertainty/compare-with-limit.ts';
import type { airSigns } from '../words/signs/air.ts';
import type { SignReader } from './sign-reader.ts';

/**
 * So little is low in any house, even where no target is published, such as one of 88 F. Common
 * practice, no source; the least published target is 15.5 F.
 */
const lowAnywhereDegFMax = 8;

/** What is measured of the air through house and machine, in classes. */
export const airSignReaders = {
  split: (facts) => stateClass(splitState(facts)) ?? lowAnywhere(facts),
  external_static: (facts) =>
    highOrFine(blowerStaticOf(facts), blowerStaticLimit(facts).limitInH2O),
  filter_drop: (facts) =>
    highOrFine(pressureAcross(facts, 'filter_drop'), filterDropInH2O.restricts),
  indoor_coil_drop: (facts) =>
    highOrFine(pressureAcross(facts, 'indoor_coil_drop'), coilDropInH2O.restricts),
} as const satisfies { [Code in keyof typeof airSigns]: SignReader<Code> };

function lowAnywhere(facts: Facts): 'low' | undefined {
  const split = splitOf(facts);
  if (split.kind !== 'settled') return undefined;
  return compareWithLimit(split.measured, lowAnywhereDegFMax) === 'below' ? 'low' : undefined;
}

function highOrFine(settled: Settled, limitInH2O: number): 'high' | 'fine' | undefined {
  if (settled.kind !== 'settled') return undefined;
  const side = compareWithLimit(settled.measured, limitInH2O);
  return side === 'within' ? undefined : side === 'above' ? 'high' : 'fine';
}
