import { controlVoltsMin } from '../../electrical/control-volts.ts';
import type { Facts } from '../../facts/admit-evidence.ts';
import { lastLook } from '../../facts/last-look.ts';
import { measuredAt, type Settled } from '../../facts/measured.ts';
import { latestInstant, measuredNear } from '../../facts/measured-near.ts';
import { liftOf } from '../../facts/pressure-lifts.ts';
import type { Condition } from '../../verdicts/weigh-together.ts';
import { whenMeasured } from '../../verdicts/when-measured.ts';
import { whenObserved } from '../../verdicts/when-observed.ts';

/** A 24 V coil of a valve has some 10 to 60 ohm; common practice, no source. */
export const valveCoilOhms = { short: 2, open: 500 } as const;

/** The pressure of the system moves a reversing valve; it needs this much. Common practice, no source. */
const shiftPressureMinPsi = 75;

/** That the coil of the valve had its 24 V in the minutes in which the valve was watched. */
export function whenValveCoilFed(facts: Facts, watched: Condition): Condition {
  const volts = measuredNear(facts, 'reversing_valve_coil', 'voltage', watched);
  return whenMeasured(
    volts,
    'voltage at the coil of the reversing valve',
    'above',
    controlVoltsMin,
  );
}

/** That the compressor was not seen standing when the valve was watched, and was seen running. */
export function whenRanThen(facts: Facts, watched: Condition): Condition {
  const runs = whenObserved(facts, 'compressor_running');
  const watchedAt = latestInstant(facts, watched);
  const stoodMs = lastLook(facts, 'compressor_running', 'no');
  const isOlder = watchedAt !== undefined && Date.parse(watchedAt) <= stoodMs;
  return runs.state === 'holds' && isOlder
    ? { ...runs, state: 'unknown', says: 'Switch the valve again now that the compressor runs.' }
    : runs;
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

/** That the compressor had built enough pressure to move the valve in the minutes it was watched. */
export function whenPressureMovesValve(facts: Facts, watched: Condition): Condition {
  const what = 'head over suction pressure';
  return whenMeasured(liftNear(facts, watched), what, 'above', shiftPressureMinPsi);
}

function liftNear(facts: Facts, watched: Condition): Settled {
  const suction = measuredNear(facts, 'suction_port', 'gauge_pressure', watched);
  const liquid = measuredNear(facts, 'liquid_port', 'gauge_pressure', watched);
  if (suction.kind !== 'settled') return suction;
  if (liquid.kind !== 'settled') return liquid;
  return {
    kind: 'settled',
    doubts: [],
    measured: liftOf(liquid.measured, suction.measured),
  };
}
