import { describe, expect, test } from 'vitest';
import { admitEvidence, type Facts } from '../../../src/trade/facts/admit-evidence.ts';
import { splitAgainstTargetOf, splitOf } from '../../../src/trade/facts/air-state.ts';
import { airflowOf } from '../../../src/trade/facts/airflow.ts';
import { ductShareOf } from '../../../src/trade/facts/duct-pressure.ts';
import type { Settled } from '../../../src/trade/facts/measured.ts';
import { suctionSaturationOf, superheatOf } from '../../../src/trade/facts/refrigerant-state.ts';
import { reversingValveRise } from '../../../src/trade/facts/reversing-valve-rise.ts';
import { sectionCapacitance } from '../../../src/trade/facts/section-capacitance.ts';
import { sensorDeviation } from '../../../src/trade/facts/sensor-deviation.ts';
import { superheatAgainstTargetOf } from '../../../src/trade/facts/superheat-against-target.ts';
import type { Nameplate, PointCode, Reading } from '../../../src/trade/index.ts';
import { readingUncertainty } from '../../../src/trade/uncertainty/reading-uncertainty.ts';
import { circuitPlate, circuitReadings } from '../circuit-readings.ts';
import { amps, degF, ohms, outdoorUnit, psig, type Sign, volts } from '../make-evidence.ts';

/*
 * What gives no figure says what to measure or to record, and rests on what was read: no number is
 * made up. PRODUCT.md, "Readings, verdicts, findings". Readings of one state are of the same 15
 * minutes: common practice, no source.
 */

const late = { takenAt: '2026-07-14T15:16:00Z' };
const facts = (signs: readonly Sign[], plate: Partial<Nameplate> = {}) =>
  admitEvidence(outdoorUnit(signs, plate));

const wetBulb: Partial<Reading> = {
  quantity: 'wet_bulb_temperature',
  method: 'psychrometer',
};
const static_ = (point: PointCode, value: number) =>
  psig(point, value, {
    ...{ quantity: 'static_pressure', unit: "[in_i'H2O]", method: 'manometer' },
  });

const apart = 'within 15 minutes of each other';

describe('without a figure it is said why', () => {
  test.each<[string, (of: Facts) => Settled, Facts, string, string[]]>([
    [
      'a split of air that was measured apart',
      splitOf,
      facts([degF('return_air', 75), degF('supply_air', 55, late)]),
      `Measure return and supply air ${apart}.`,
      ['r0', 'r1'],
    ],
    [
      'a split beside its target with the return air of another hour',
      splitAgainstTargetOf,
      facts([
        degF('return_air', 75, late),
        degF('return_air', 63, wetBulb),
        degF('supply_air', 55),
      ]),
      `Measure return and supply air ${apart}.`,
      ['r0', 'r2'],
    ],
    [
      'an airflow by a furnace whose efficiency is not recorded',
      airflowOf,
      facts([degF('heating_return_air', 68), degF('heating_supply_air', 118)], {
        heatInputBtuh: 80_000,
      }),
      'Record the heat of the nameplate.',
      ['r0', 'r1'],
    ],
    [
      'an airflow of air that was measured apart',
      airflowOf,
      facts([degF('heating_return_air', 68), degF('heating_supply_air', 118, late)], {
        heatKw: 10,
      }),
      `Measure return and supply air while heating, ${apart}.`,
      ['r0', 'r1'],
    ],
    [
      'the lines of a reversing valve measured apart',
      reversingValveRise,
      facts([
        degF('reversing_valve_suction_in', 45),
        degF('reversing_valve_suction_out', 60, late),
      ]),
      'Measure the suction line before and after the valve within 15 minutes.',
      ['r0', 'r1'],
    ],
    [
      'superheat of a pressure and a line measured apart',
      superheatOf,
      facts([psig('suction_port', 118), degF('suction_line', 53, late)], circuitPlate),
      `Pressure and temperature must be taken ${apart}; measure again.`,
      ['r0', 'r1'],
    ],
    [
      'a sensor whose beta is not recorded',
      (of) => sensorDeviation(of, 'coil_sensor'),
      facts([ohms('coil_sensor', 10_000), degF('coil_sensor', 77)], { sensorOhmsAt77F: 10_000 }),
      'The table of the sensor is not known: record its ohms at 77 F and its beta.',
      ['r0', 'r1'],
    ],
    [
      'a sensor whose ohms are not recorded',
      (of) => sensorDeviation(of, 'coil_sensor'),
      facts([ohms('coil_sensor', 10_000), degF('coil_sensor', 77)], { sensorBetaK: 3_950 }),
      'The table of the sensor is not known: record its ohms at 77 F and its beta.',
      ['r0', 'r1'],
    ],
    [
      'superheat of a pressure alone',
      superheatOf,
      facts([psig('suction_port', 118)], circuitPlate),
      'Measure the temperature too: suction line at the outdoor unit.',
      ['r0'],
    ],
    [
      'superheat of a refrigerant that is not on record',
      superheatOf,
      facts([psig('suction_port', 118), degF('suction_line', 53)]),
      'Record the refrigerant from the nameplate of the machine that holds the compressor.',
      ['r0', 'r1'],
    ],
  ])('%s', (_, settledOf, of, why, readingIds) => {
    expect(settledOf(of)).toEqual({ kind: 'unusable', why, readingIds });
  });

  test('superheat beside its target, of outdoor air that nobody measured', () => {
    const plate = {
      ...circuitPlate,
      refrigerant: 'R-22',
      meteringDevice: 'fixed_orifice',
    } as const;
    const signs = circuitReadings({ refrigerant: 'R-22', wetBulbDegF: 70 }).filter(
      (sign) => !('reading' in sign && sign.reading.point === 'outdoor_air'),
    );
    expect(superheatAgainstTargetOf(facts(signs, plate))).toMatchObject({
      kind: 'unusable',
      why: 'Measure the wet bulb of the return air and the outdoor air in the same minutes.',
    });
  });
});

describe('a capacitor under load', () => {
  const at = (ampsValue: number, voltsValue: number) =>
    sectionCapacitance(
      facts([amps('capacitor_herm', ampsValue), volts('capacitor_herm', voltsValue)]),
      'capacitor_herm',
    ).kind;

  // Below 60 V no motor of 208/230 V runs: common practice, no source.
  test.each([
    [4, 60, 'settled'],
    [4, 59.9, 'unusable'],
    [0, 240, 'unusable'],
  ])('at %d A and %d V is %s', (ampsValue, voltsValue, kind) => {
    expect(at(ampsValue, voltsValue)).toBe(kind);
  });
});

test('a split rests on the air before and after, and beside its target on the wet bulb too', () => {
  const of = facts([
    ...[degF('return_air', 75), degF('return_air', 63, wetBulb), degF('supply_air', 61)],
  ]);
  const idsOf = (settled: Settled) =>
    settled.kind === 'settled' ? [...settled.measured.readingIds].sort() : settled.kind;
  expect(idsOf(splitOf(of))).toEqual(['r0', 'r2']);
  expect(idsOf(splitAgainstTargetOf(of))).toEqual(['r0', 'r1', 'r2']);
});

test('what the ducts take rests on every pressure it was taken from', () => {
  const settled = ductShareOf(
    facts([
      static_('return_static', -0.3),
      static_('supply_static', 0.5),
      static_('filter_drop', 0.1),
      static_('indoor_coil_drop', 0.2),
    ]),
  );
  expect(settled.kind === 'settled' && settled.measured.readingIds).toEqual([
    ...['r0', 'r1', 'r2', 'r3'],
  ]);
  expect(settled.kind === 'settled' && settled.measured.value).toBeCloseTo(0.5, 9);
});

// R-410A: 118.0 psig are 39.8 F and 130 psig are 45.12 F (TRADE-FACTS 5.1 and 5.8), 0.44 F for a psi.
test('the doubt of a gauge is worth 0.44 F of the boiling point for each psi', () => {
  const gauge = readingUncertainty({
    ...{ quantity: 'gauge_pressure', method: 'digital_gauge', value: 118 },
  });
  const settled = suctionSaturationOf(facts([psig('suction_port', 118)], circuitPlate));
  if (settled.kind !== 'settled') throw new Error('R-410A has its table');
  expect(settled.measured.value).toBeCloseTo(40, 0);
  expect(settled.measured.uncertainty / gauge).toBeGreaterThan(0.42);
  expect(settled.measured.uncertainty / gauge).toBeLessThan(0.46);
});
