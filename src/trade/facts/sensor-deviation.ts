import {
  type Thermistor,
  thermistorFallPerDegF,
  thermistorOhms,
} from '../electrical/thermistor.ts';
import type { Nameplate, Reading } from '../evidence.ts';
import { combineInQuadrature } from '../uncertainty/combine-in-quadrature.ts';
import { readingUncertainty } from '../uncertainty/reading-uncertainty.ts';
import type { Facts } from './admit-evidence.ts';
import { type Measured, readingsAt, type Settled, settle, showValue } from './measured.ts';
import { nearestInTime, pairGapMinutesMax } from './nearest-in-time.ts';

export type SensorPoint = 'coil_sensor' | 'air_sensor';

/**
 * How far the resistance of a sensor lies from its maker's table at the temperature measured beside
 * it, in percent either way. Without the table on the nameplate nothing is judged.
 */
export function sensorDeviation(facts: Facts, point: SensorPoint): Settled {
  const resistances = readingsAt(facts, point, 'resistance');
  const temperatures = readingsAt(facts, point, 'temperature');
  const readingIds = [...resistances, ...temperatures].map(({ id }) => id);
  if (resistances.length === 0) return { kind: 'none' };
  const table = tableOf(facts.equipment.nameplate);
  if (table === undefined) {
    const why = 'The table of the sensor is not known: record its ohms at 77 F and its beta.';
    return { kind: 'unusable', why, readingIds };
  }
  const deviations = resistances.flatMap((resistance) => {
    const beside = nearestInTime(resistance, temperatures);
    return beside === undefined ? [] : [deviationOf(resistance, beside, table)];
  });
  if (deviations.length > 0) return settle(deviations);
  const why = `Measure the temperature beside the sensor within ${pairGapMinutesMax} minutes of its resistance.`;
  return { kind: 'unusable', why, readingIds };
}

function tableOf({ sensorOhmsAt77F, sensorBetaK }: Nameplate): Thermistor | undefined {
  if (sensorOhmsAt77F === undefined || sensorBetaK === undefined) return undefined;
  return { ohmsAt77F: sensorOhmsAt77F, betaK: sensorBetaK };
}

function deviationOf(resistance: Reading, beside: Reading, table: Thermistor): Measured {
  const dueOhms = thermistorOhms(table, beside.value);
  const share = resistance.value / dueOhms;
  const uncertainty = combineInQuadrature(
    readingUncertainty(resistance) / dueOhms,
    share * thermistorFallPerDegF(table, beside.value) * readingUncertainty(beside),
  );
  const due = `${showValue(dueOhms, 'Ohm')} due at ${showValue(beside.value, '[degF]')}`;
  const found = `${showValue(resistance.value, 'Ohm')} found`;
  return {
    value: Math.abs(share - 1) * 100,
    uncertainty: uncertainty * 100,
    unit: '%',
    how: `as the distance of ${found} from ${due}`,
    readingIds: [resistance.id, beside.id],
  };
}
