import type { Facts } from '../../facts/admit-evidence.ts';
import { refrigerantOnPlate } from '../../facts/circuit-plate.ts';
import { subcoolingOf, superheatOf } from '../../facts/refrigerant-state.ts';
import { remembered } from '../../facts/remembered-for.ts';
import { knownRefrigerant } from '../../refrigerant/known-refrigerant.ts';
import { type Refrigerant, refrigerants } from '../../refrigerant/refrigerants.ts';
import type { Condition } from '../../verdicts/weigh-together.ts';
import { whenMeasured } from '../../verdicts/when-measured.ts';

/**
 * That pressures and line temperatures can belong to the refrigerant of the plate at all: no gas in
 * the suction line is colder, no liquid warmer than it boils at. Where one is, the refrigerant is
 * another, or gauge and clamp are wrong.
 */
export const whenPossible = remembered((facts): Condition => {
  const impossible = impossibleFigures(facts).find(({ state }) => state === 'holds');
  return {
    state: impossible === undefined ? 'holds' : 'fails',
    says: impossible
      ? `${impossible.says} That cannot be: look at refrigerant, gauges and clamps.`
      : 'The refrigerant of the plate can show these readings.',
    readingIds: impossible?.readingIds ?? [],
    observationIds: [],
    readingsDisagree: false,
  };
});

/** That the superheat, and that the subcooling, is surely below what is possible. */
export function impossibleFigures(facts: Facts): [superheat: Condition, subcooling: Condition] {
  const leastDegF = -glideDegF(facts);
  return [
    whenMeasured(superheatOf(facts), 'superheat', 'below', leastDegF),
    whenMeasured(subcoolingOf(facts), 'subcooling', 'below', leastDegF),
  ];
}

/** While a blend boils or flashes it may be this much off the end that is measured against. */
function glideDegF(facts: Facts): number {
  const named = refrigerantOnPlate(facts);
  const code = named === undefined ? undefined : knownRefrigerant(named);
  return code === undefined ? 0 : mostGlideDegF[refrigerants[code].glide];
}

/** At the pressures of cooling, computed from our saturation table and rounded up. */
const mostGlideDegF: Record<Refrigerant['glide'], number> = { none: 0, slight: 0.5, marked: 11 };
