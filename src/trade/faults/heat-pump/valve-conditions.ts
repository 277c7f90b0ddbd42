import { combineInQuadrature } from '../../electrical/combine-in-quadrature.ts';
import { controlVoltsMin } from '../../electrical/control-volts.ts';
import type { Facts } from '../../facts/admit-evidence.ts';
import { measuredAt, type Settled } from '../../facts/measured.ts';
import type { Condition } from '../../verdicts/weigh-together.ts';
import { whenMeasured } from '../../verdicts/when-measured.ts';
import { whenObserved } from '../../verdicts/when-observed.ts';

/** A 24 V coil of a valve has some 10 to 60 ohm; common practice, no source. */
export const valveCoilOhms = { short: 2, open: 500 } as const;

/** The pressure of the system moves a reversing valve; it needs this much. Common practice, no source. */
const shiftPressureMinPsi = 75;

/** That the coil of the valve has its 24 V. */
export function whenValveCoilFed(facts: Facts): Condition {
  const volts = measuredAt(facts, 'reversing_valve_coil', 'voltage');
  return whenMeasured(
    volts,
    'voltage at the coil of the reversing valve',
    'above',
    controlVoltsMin,
  );
}

/** That the coil of the valve is sound: by its ohms, or not open where nobody noted them. */
export function whenValveCoilSound(facts: Facts): Condition[] {
  const ohms = measuredAt(facts, 'reversing_valve_coil', 'resistance');
  if (ohms.kind === 'none') return [whenObserved(facts, 'reversing_valve_coil_reads_open', 'no')];
  const what = 'coil of the reversing valve';
  return [
    whenMeasured(ohms, what, 'above', valveCoilOhms.short),
    whenMeasured(ohms, what, 'below', valveCoilOhms.open),
  ];
}

/** That the compressor has built enough pressure to move the valve. */
export function whenPressureMovesValve(facts: Facts): Condition {
  const what = 'head over suction pressure';
  return whenMeasured(headOverSuction(facts), what, 'above', shiftPressureMinPsi);
}

function headOverSuction(facts: Facts): Settled {
  const suction = measuredAt(facts, 'suction_port', 'gauge_pressure');
  const liquid = measuredAt(facts, 'liquid_port', 'gauge_pressure');
  if (suction.kind !== 'settled') return suction;
  if (liquid.kind !== 'settled') return liquid;
  const { measured } = liquid;
  return {
    kind: 'settled',
    doubts: [],
    measured: {
      ...measured,
      value: measured.value - suction.measured.value,
      uncertainty: combineInQuadrature(measured.uncertainty, suction.measured.uncertainty),
      readingIds: [...suction.measured.readingIds, ...measured.readingIds],
    },
  };
}
