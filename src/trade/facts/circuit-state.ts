import { splitToleranceDegF } from '../air/judge-temperature-split.ts';
import { chargeTestLimits } from '../refrigerant/charge-test-limits.ts';
import { condensingBand } from '../refrigerant/condensing-band.ts';
import { targetSubcooling } from '../refrigerant/target-subcooling.ts';
import { compareWithLimit } from '../uncertainty/compare-with-limit.ts';
import type { MeasuredLabel } from '../words/measured-labels.ts';
import type { Facts } from './admit-evidence.ts';
import { splitAgainstTargetOf } from './air-state.ts';
import { returnOverSuctionBand, suctionSaturationBand, type UsualBand } from './circuit-bands.ts';
import { meteringDeviceOf } from './circuit-plate.ts';
import type { Settled } from './measured.ts';
import { plateOf } from './plate-of.ts';
import {
  condensingOverAmbientOf,
  returnOverSuctionOf,
  subcoolingOf,
  suctionSaturationOf,
  superheatOf,
} from './refrigerant-state.ts';
import { remembered } from './remembered-for.ts';
import { superheatAgainstTargetOf } from './superheat-against-target.ts';

export type StateClass = 'low' | 'fine' | 'high';

/** The figures of the circuit by what they are called in a sentence, with their name on a gauge. */
export const circuitFigures = {
  superheat: 'Superheat',
  'superheat less its target': 'Superheat less its target',
  subcooling: 'Subcooling',
  'suction saturation': 'Suction saturation',
  'return air over suction saturation': 'Return air over suction saturation',
  'condensing over outdoor air': 'Condensing over outdoor air',
  'air split less its target': 'Air split less its target',
} as const satisfies Record<string, MeasuredLabel>;

/** One figure of the running circuit, with what is usual for it. */
export type CircuitState = {
  /** For a sentence: 'superheat'. */
  what: keyof typeof circuitFigures;
  settled: Settled;
  /** Undefined where nobody can say what is usual; `without` then says what to record. */
  band: UsualBand | undefined;
  without?: string;
  /** Where a high figure means that the state itself is low. */
  isInverted?: true;
};

/** The class a figure surely lies in; undefined while that cannot be told. */
export function stateClass({ settled, band, isInverted }: CircuitState): StateClass | undefined {
  if (settled.kind !== 'settled' || band === undefined) return undefined;
  const belowBand = compareWithLimit(settled.measured, band.lowDegF);
  const aboveBand = compareWithLimit(settled.measured, band.highDegF);
  if (belowBand === 'below') return isInverted ? 'high' : 'low';
  if (aboveBand === 'above') return isInverted ? 'low' : 'high';
  return belowBand === 'above' && aboveBand === 'below' ? 'fine' : undefined;
}

/** The suction freed of the house: how far it boils below the return air, where that was read. */
export const suctionState = remembered((facts): CircuitState => {
  const besideReturn = returnOverSuctionOf(facts);
  if (besideReturn.kind === 'settled' || besideReturn.kind === 'disagree') {
    return {
      what: 'return air over suction saturation',
      settled: besideReturn,
      band: returnOverSuctionBand,
      isInverted: true,
    };
  }
  return {
    what: 'suction saturation',
    settled: suctionSaturationOf(facts),
    band: suctionSaturationBand,
  };
});

/** The head freed of the weather: how far it condenses above the outdoor air. */
export const headState = remembered((facts): CircuitState => {
  return {
    what: 'condensing over outdoor air',
    settled: condensingOverAmbientOf(facts),
    band: condensingBand(plateOf(facts, 'seer')),
  };
});

/**
 * A valve holds its superheat within the limits between which its protocol lets it pass; with a fixed
 * orifice it follows the weather and is held against the published target.
 */
export const superheatState = remembered((facts): CircuitState => {
  if (meteringDeviceOf(facts) === 'fixed_orifice') {
    const { superheatToleranceDegF: tolerance } = chargeTestLimits;
    return {
      what: 'superheat less its target',
      settled: superheatAgainstTargetOf(facts),
      band: { lowDegF: -tolerance, highDegF: tolerance },
    };
  }
  return {
    what: 'superheat',
    settled: superheatOf(facts),
    band: meteringDeviceOf(facts) && valveSuperheatBand,
    without: recordMetering,
  };
});

const valveSuperheatBand: UsualBand = {
  lowDegF: chargeTestLimits.meteringSuperheatLowDegF,
  highDegF: chargeTestLimits.meteringSuperheatHighDegF,
};

/** A valve keeps the subcooling of its plate; a fixed orifice lets it follow the charge. */
export const subcoolingState = remembered((facts): CircuitState => {
  return {
    what: 'subcooling',
    settled: subcoolingOf(facts),
    band: subcoolingBandOf(facts),
    without: recordMetering,
  };
});

function subcoolingBandOf(facts: Facts): UsualBand | undefined {
  const plateDegF = plateOf(facts, 'targetSubcoolingDegF');
  const metering = meteringDeviceOf(facts);
  // An outdoor unit may carry the subcooling for a valve that this coil does not have.
  if (metering === 'fixed_orifice') return orificeSubcoolingBand;
  if (plateDegF === undefined && metering === undefined) return undefined;
  return targetSubcooling(plateDegF);
}

/** Nobody charges a fixed orifice by it; it only tells starved from full. Common practice, no source. */
const orificeSubcoolingBand: UsualBand = { lowDegF: 5, highDegF: 18 };

/** The air split less its target. */
export const splitState = remembered((facts): CircuitState => {
  return {
    what: 'air split less its target',
    settled: splitAgainstTargetOf(facts),
    band: { lowDegF: -splitToleranceDegF, highDegF: splitToleranceDegF },
  };
});

const recordMetering = 'record the metering device: valve or fixed orifice';
