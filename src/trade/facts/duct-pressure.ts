import { type ExternalStaticLimit, externalStaticLimit } from '../air/external-static.ts';
import { combineInQuadrature } from '../uncertainty/combine-in-quadrature.ts';
import type { Facts } from './admit-evidence.ts';
import { externalStaticOf } from './air-state.ts';
import { type Measured, measuredAt, type Settled } from './measured.ts';
import { isObserved } from './observed.ts';
import { plateOf } from './plate-of.ts';
import { remembered } from './remembered-for.ts';

/** Pressure across filter or indoor coil, inches of water; without air nothing drops. */
export function pressureAcross(facts: Facts, point: 'filter_drop' | 'indoor_coil_drop'): Settled {
  return whileBlowerRuns(facts, measuredAt(facts, point, 'static_pressure'));
}

/** What the running blower works against, inches of water. */
export const blowerStaticOf = remembered((facts): Settled => {
  return whileBlowerRuns(facts, externalStaticOf(facts));
});

/** What the blower may work against: its plate, else what is usual. */
export function blowerStaticLimit(facts: Facts): ExternalStaticLimit {
  return externalStaticLimit(plateOf(facts, 'externalStaticMaxInWc'));
}

/**
 * What the ducts alone take, inches of water: the external static pressure less the drops of filter
 * and indoor coil. Both are taken off wherever they sit, so that the ducts are never blamed for them.
 */
export const ductShareOf = remembered((facts): Settled => {
  const whole = blowerStaticOf(facts);
  if (whole.kind !== 'settled') return whole;
  const drops: Measured[] = [];
  for (const point of ['filter_drop', 'indoor_coil_drop'] as const) {
    const drop = pressureAcross(facts, point);
    if (drop.kind === 'disagree') return drop;
    if (drop.kind !== 'settled') {
      const why = 'Measure the pressure across filter and coil too.';
      return { kind: 'unusable', why, readingIds: whole.measured.readingIds };
    }
    drops.push(drop.measured);
  }
  const parts = [whole.measured, ...drops];
  const measured: Measured = {
    value: drops.reduce((left, { value }) => left - value, whole.measured.value),
    uncertainty: combineInQuadrature(...parts.map(({ uncertainty }) => uncertainty)),
    unit: whole.measured.unit,
    how: 'without filter and coil',
    readingIds: parts.flatMap(({ readingIds }) => readingIds),
  };
  return { kind: 'settled', measured, doubts: whole.doubts };
});

function whileBlowerRuns(facts: Facts, settled: Settled): Settled {
  if (settled.kind !== 'settled' || !isObserved(facts, 'indoor_fan_running', 'no')) return settled;
  const why = 'The indoor fan stood, and without air there is no pressure; measure while it runs.';
  return { kind: 'unusable', why, readingIds: settled.measured.readingIds };
}
