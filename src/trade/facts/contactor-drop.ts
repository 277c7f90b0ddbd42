import { contactorPoles } from '../electrical/contactor-poles.ts';
import { compareWithLimit } from '../uncertainty/compare-with-limit.ts';
import type { Facts } from './admit-evidence.ts';
import { measuredAt, type Settled } from './measured.ts';
import { isObserved } from './observed.ts';
import { remembered } from './remembered-for.ts';
import { outdoorLoad } from './under-load.ts';

/** Common practice, no source: a closed pole drops about 0 V. */
export const contactorDropVolts = { worn: 0.5, due: 3 } as const;

const polePoints = ['contactor_pole_1', 'contactor_pole_2', 'contactor_pole_3'] as const;

/** The pole with the greatest drop speaks for all; poles whose readings disagree speak first. */
export const worstPole = remembered((facts): Settled => {
  let worst: Settled = { kind: 'none' };
  for (const point of polePoints) {
    const pole = measuredAt(facts, point, 'voltage');
    if (pole.kind === 'disagree') return pole;
    if (pole.kind !== 'settled') continue;
    if (worst.kind !== 'settled' || pole.measured.value > worst.measured.value) worst = pole;
  }
  return worst;
});

/** What is on record of each pole that this contactor has. */
export function everyPole(facts: Facts): Settled[] {
  return polePoints
    .slice(0, contactorPoles(facts.equipment.nameplate))
    .map((point) => measuredAt(facts, point, 'voltage'));
}

/** How much the closed contactor drops; undefined while that cannot be told. */
export function contactorDropClass(facts: Facts): 'high' | 'raised' | 'fine' | undefined {
  const worst = worstPole(facts);
  // Across an open pole stands the full line voltage.
  if (worst.kind !== 'settled' || !isObserved(facts, 'contactor_pulled_in')) return undefined;
  if (compareWithLimit(worst.measured, contactorDropVolts.due) === 'above') return 'high';
  const side = compareWithLimit(worst.measured, contactorDropVolts.worn);
  if (side === 'above') {
    return compareWithLimit(worst.measured, contactorDropVolts.due) === 'below'
      ? 'raised'
      : undefined;
  }
  const allMeasured = everyPole(facts).every(({ kind }) => kind === 'settled');
  const isClean = side === 'below' && allMeasured && outdoorLoad(facts) !== undefined;
  return isClean ? 'fine' : undefined;
}
