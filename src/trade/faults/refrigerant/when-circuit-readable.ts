import type { Machine } from '../../evidence.ts';
import type { Facts } from '../../facts/admit-evidence.ts';
import { splitOf } from '../../facts/air-state.ts';
import { meteringDeviceOf } from '../../facts/circuit-plate.ts';
import {
  type Measured,
  measuredAt,
  measuredFrom,
  readingsAt,
  type Settled,
  settle,
} from '../../facts/measured.ts';
import { nearestInTime } from '../../facts/nearest-in-time.ts';
import { observed } from '../../facts/observed.ts';
import { plateOf } from '../../facts/plate-of.ts';
import { remembered } from '../../facts/remembered-for.ts';
import { chargeTestLimits } from '../../refrigerant/charge-test-limits.ts';
import { combineInQuadrature } from '../../uncertainty/combine-in-quadrature.ts';
import type { Condition } from '../../verdicts/weigh-together.ts';
import { whenMeasured } from '../../verdicts/when-measured.ts';
import { whenObserved } from '../../verdicts/when-observed.ts';
import { whenPossible } from './when-possible.ts';
import { whenRanLong } from './when-ran-long.ts';

/**
 * What must be so before pressures and temperatures say anything of the charge: a compressor that
 * pumps at one speed and has done so for a while, cooling, outdoor air warm enough, no ice, and the
 * refrigerant of the plate.
 */
export const whenCircuitReadable = remembered((facts): Condition[] => {
  return [
    whenCompressorPumps(facts),
    whenOneSpeed(facts),
    whenRanLong(facts),
    whenCooling(facts),
    whenWarmOutdoors(facts),
    whenNoIce(facts),
    whenPlateRefrigerant(facts),
    whenPossible(facts),
  ];
});

/** At rest both pressures are the same; running they lie some hundred psi apart. Common practice. */
const pumpingPsiMin = 20;

export const whenCompressorPumps = remembered((facts): Condition => {
  const seen = whenObserved(facts, 'compressor_running');
  if (seen.state !== 'unknown') return seen;
  const lift = pressureLift(facts);
  if (lift.kind === 'settled') {
    return whenMeasured(lift, 'head over suction', 'above', pumpingPsiMin);
  }
  return { ...seen, says: 'Record that the compressor runs, or read both pressures.' };
});

function pressureLift(facts: Facts): Settled {
  const suctions = readingsAt(facts, 'suction_port', 'gauge_pressure');
  const lifts = readingsAt(facts, 'liquid_port', 'gauge_pressure').flatMap((head): Measured[] => {
    const suction = nearestInTime(head, suctions);
    if (suction === undefined) return [];
    const [above, below] = [measuredFrom(head), measuredFrom(suction)];
    return [
      {
        ...above,
        value: above.value - below.value,
        uncertainty: combineInQuadrature(above.uncertainty, below.uncertainty),
        readingIds: [...above.readingIds, ...below.readingIds],
      },
    ];
  });
  return settle(lifts);
}

function whenOneSpeed(facts: Facts): Condition {
  const motor = plateOf(facts, 'compressorMotor');
  if (motor === 'inverter' || machinesOf(facts).some(isMiniSplit)) {
    const says =
      'An inverter varies its speed, so these readings show no pattern; weigh the charge.';
    return said('fails', says);
  }
  const isKnown = motor !== undefined || plateOf(facts, 'capacitorHermUf') !== undefined;
  const mayVary = meteringDeviceOf(facts) === 'eev' || machinesOf(facts).some(isHeatPump);
  if (!isKnown && mayVary) {
    const says = 'Record the motor of the compressor: an inverter shows no pattern.';
    return said('unknown', says);
  }
  return said('holds', 'The compressor runs at one speed.');
}

function isHeatPump({ kind }: Machine): boolean {
  return kind === 'heat_pump';
}

function isMiniSplit({ kind }: Machine): boolean {
  return kind === 'mini_split';
}

/** Any machine that may be a heat pump must be seen cooling: heating, the coils change their parts. */
function whenCooling(facts: Facts): Condition {
  const mayHeat = machinesOf(facts).some(
    ({ kind }) => kind === 'heat_pump' || kind === 'package_unit',
  );
  if (!mayHeat) return said('holds', 'It can only cool.');
  const split = whenMeasured(splitOf(facts), 'return less supply air', 'above', 0);
  if (split.state !== 'unknown') return split;
  const call = whenObserved(facts, 'thermostat_calling_cooling');
  if (call.state !== 'unknown') return call;
  return {
    ...call,
    says: 'Record that it cools: a heat pump in heating cannot be judged like this.',
  };
}

function whenWarmOutdoors(facts: Facts): Condition {
  const outdoors = measuredAt(facts, 'outdoor_air', 'temperature');
  return whenMeasured(outdoors, 'outdoor air', 'above', chargeTestLimits.outdoorDegFMin);
}

function whenNoIce(facts: Facts): Condition {
  const melted = whenObserved(facts, 'ice_melted_before_measuring');
  if (melted.state !== 'unknown') return melted;
  const ice = observed(facts, 'ice_on_coil_or_line');
  if (ice?.answer !== 'yes') return said('holds', 'No ice was seen.');
  const says = 'There is ice; let it melt and measure again.';
  return { ...melted, state: 'fails', says, observationIds: ice.ids };
}

function whenPlateRefrigerant(facts: Facts): Condition {
  const other = whenObserved(facts, 'wrong_refrigerant_marked', 'no');
  return other.state === 'unknown' ? said('holds', 'Nothing says another refrigerant.') : other;
}

function machinesOf({ equipment, system }: Facts): Machine[] {
  return [equipment, ...system];
}

function said(state: Condition['state'], says: string): Condition {
  return { state, says, readingIds: [], observationIds: [], readingsDisagree: false };
}
