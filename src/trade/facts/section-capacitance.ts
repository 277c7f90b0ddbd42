import {
  runningCapacitanceUf,
  runningCapacitanceUncertaintyUf,
} from '../electrical/running-capacitance.ts';
import type { Reading } from '../evidence.ts';
import { readingUncertainty } from '../uncertainty/reading-uncertainty.ts';
import type { Facts } from './admit-evidence.ts';
import {
  contradict,
  type Measured,
  measuredFrom,
  readingsAt,
  type Settled,
  settle,
  show,
} from './measured.ts';
import { nearestInTime, pairGapMinutesMax } from './nearest-in-time.ts';

export type CapacitorSection = 'capacitor_herm' | 'capacitor_fan' | 'capacitor_blower';

/** Below this no 208/230 V motor runs, so there is no running capacitor to measure. */
const runningVoltsMin = 60;

/**
 * The capacitance of one section. A measurement with the leads off outranks any under load, however
 * much later: it needs no second meter and no steady motor. Where the two contradict, that is named.
 */
export function sectionCapacitance(facts: Facts, section: CapacitorSection): Settled {
  const leadsOff = readingsAt(facts, section, 'capacitance').map(measuredFrom);
  const underLoad = runningMeasurements(facts, section);
  if (leadsOff.length > 0) return outranking(settle(leadsOff), underLoad);
  if (underLoad.length > 0) return settle(underLoad);
  return whyNoFigure(facts, section);
}

function outranking(settled: Settled, underLoad: readonly Measured[]): Settled {
  if (settled.kind !== 'settled') return settled;
  const doubts = underLoad
    .filter((each) => contradict(each, settled.measured))
    .map((each) => `${show(each)} disagrees; the measurement with the leads off counts.`);
  return { ...settled, doubts: [...settled.doubts, ...doubts] };
}

function runningMeasurements(facts: Facts, section: CapacitorSection): Measured[] {
  const voltages = readingsAt(facts, section, 'voltage');
  return readingsAt(facts, section, 'current').flatMap((current) => {
    const voltage = nearestInTime(current, voltages);
    return voltage === undefined ? [] : runningMeasurement(current, voltage);
  });
}

/**
 * No figure when the meter cannot tell the current from none: then the section may be open, but so
 * may the motor's winding or its overload protector, and only the leads-off test tells them apart.
 */
function runningMeasurement(current: Reading, voltage: Reading): Measured[] {
  const ampsUncertainty = readingUncertainty(current);
  if (current.value <= ampsUncertainty || voltage.value < runningVoltsMin) return [];
  return [
    {
      value: runningCapacitanceUf(current.value, voltage.value),
      uncertainty: runningCapacitanceUncertaintyUf(
        { amps: current.value, uncertainty: ampsUncertainty },
        { volts: voltage.value, uncertainty: readingUncertainty(voltage) },
      ),
      unit: 'uF',
      how: 'under load',
      readingIds: [current.id, voltage.id],
    },
  ];
}

function whyNoFigure(facts: Facts, section: CapacitorSection): Settled {
  const currents = readingsAt(facts, section, 'current');
  const voltages = readingsAt(facts, section, 'voltage');
  const readingIds = [...currents, ...voltages].map((each) => each.id);
  if (readingIds.length === 0) return { kind: 'none' };
  return { kind: 'unusable', why: missingOfPair(currents, voltages), readingIds };
}

function missingOfPair(currents: readonly Reading[], voltages: readonly Reading[]): string {
  if (voltages.length === 0) return 'Measure the voltage across it too, or test it disconnected.';
  if (currents.length === 0) return 'Measure the current through it too, or test it disconnected.';
  const again = 'measure again or test it disconnected.';
  const paired = currents.filter((each) => nearestInTime(each, voltages) !== undefined);
  if (paired.length === 0) {
    return `Current and voltage must be taken within ${pairGapMinutesMax} minutes of each other; ${again}`;
  }
  return 'No current flows or the motor does not run, so nothing was measured under load; test it disconnected.';
}
