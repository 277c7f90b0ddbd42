import { describe, expect, test } from 'vitest';
import {
  currentEvidenceRuleset,
  evidenceRulesets,
  exclusionsMissing,
  type Machine,
  type Nameplate,
  type PointCode,
} from '../../../../src/trade/index.ts';
import { circuitPlate, circuitReadings, lineSetFt, ounces } from '../../circuit-readings.ts';
import { degF, makeEvidence, outdoorUnit, type Sign, saw } from '../../make-evidence.ts';
import { type Row, stands, standsOutdoors } from './stands.ts';

const low = {
  evaporatingDegF: 30,
  condensingDegF: 106,
  superheatDegF: 32,
  subcoolingDegF: 2,
  splitDegF: 12,
};
const filterClean = saw('filter_dirty', 'no');
const inches = (point: PointCode, value: number): Sign =>
  degF(point, value, { quantity: 'static_pressure', unit: "[in_i'H2O]", method: 'manometer' });
const cfm = (value: number): Sign =>
  degF('supply_air', value, { quantity: 'airflow', unit: '[cft_i]/min', method: 'flow_hood' });

const still = [inches('return_static', 0), inches('supply_static', 0)];
const moving = [inches('return_static', -0.15), inches('supply_static', 0.2)];
const seenRunningAt = (time: string) =>
  saw('compressor_running', 'yes', { at: `2026-07-14T${time}:00Z` });
const isDrier = (sign: Sign) => 'reading' in sign && sign.reading.point.startsWith('filter_drier');

const orifice = { meteringDevice: 'fixed_orifice', targetSubcoolingDegF: undefined } as const;

// 104 oz for 15 ft of line set and 0.6 oz for each foot more: 35 ft ask for 116 oz. 90 % is 104.4 oz.
const line = lineSetFt(35);

// A valve: 10 F of subcooling on the plate, within 3 F; superheat within 4 to 25 F. A fixed orifice:
// at 63 F wet bulb and 95 F outdoors a manufacturer's R-22 table has a dash, at 67 F it has 12 F.
const rows: Row[] = [
  ['nothing recorded', [], 'unproven', 'nothing recorded'],
  ['80 oz where 116 are asked for', [ounces(80), line], 'proven', 'proven'],
  [
    '103.9 oz cannot be told from 104.4',
    [ounces(103.9), line],
    'unproven',
    'undecided by this method',
  ],
  ['115 oz', [ounces(115), line], 'contradicted', 'contradicted'],
  [
    'weighed, but the line set never measured',
    [ounces(80)],
    'unproven',
    'undecided by this method',
  ],
  [
    'every reading, airflow and drier cleared',
    [...circuitReadings(low), filterClean],
    'proven',
    'proven',
  ],
  ['the same before anybody saw the filter', circuitReadings(low), 'supported', 'supported'],
  [
    'the same with the filter measured instead of seen',
    [...circuitReadings(low), inches('filter_drop', 0.08)],
    'proven',
    'proven',
  ],
  [
    'the same with the air above its target split: too little passes',
    [...circuitReadings({ ...low, splitDegF: 26 }), filterClean],
    'unproven',
    'undecided by this method',
  ],
  [
    'without a split, by the static pressure within the plate',
    [
      ...withoutSupply(circuitReadings(low)),
      filterClean,
      inches('return_static', -0.15),
      inches('supply_static', 0.2),
    ],
    'proven',
    'proven',
    { externalStaticMaxInWc: 0.5 },
  ],
  [
    'without a split, by a static pressure above the plate',
    [
      ...withoutSupply(circuitReadings(low)),
      filterClean,
      inches('return_static', -0.4),
      inches('supply_static', 0.4),
    ],
    'unproven',
    'undecided by this method',
    { externalStaticMaxInWc: 0.5 },
  ],
  [
    'without a split, by 1,250 CFM through a machine of 3 tons',
    [...withoutSupply(circuitReadings(low)), filterClean, cfm(1_250)],
    'proven',
    'proven',
    { tons: 3 },
  ],
  [
    'the same with a dirty filter: change it first',
    [...circuitReadings(low), saw('filter_dirty')],
    'unproven',
    'undecided by this method',
  ],
  [
    'the same with a drop across the drier',
    [...circuitReadings({ ...low, drierDropDegF: 9 }), filterClean],
    'supported',
    'supported',
  ],
  [
    'the same with ice on the coil',
    [...circuitReadings(low), filterClean, saw('ice_on_coil_or_line')],
    'unproven',
    'undecided by this method',
  ],
  [
    'ice that was melted before',
    [
      ...circuitReadings(low),
      filterClean,
      saw('ice_on_coil_or_line'),
      saw('ice_melted_before_measuring'),
    ],
    'proven',
    'proven',
  ],
  [
    'the same at 50 F outdoors, too cold to judge',
    [...circuitReadings({ ...low, outdoorDegF: 50, condensingDegF: 70 }), filterClean],
    'unproven',
    'undecided by this method',
  ],
  [
    'the same by gauges on a compressor that stands still',
    [...circuitReadings(low), filterClean, saw('compressor_running', 'no')],
    'unproven',
    'undecided by this method',
  ],
  [
    'both pressures alike and nobody looked whether it runs',
    [...circuitReadings({ ...low, evaporatingDegF: 79, condensingDegF: 80 }), filterClean],
    'unproven',
    'undecided by this method',
  ],
  [
    'another refrigerant was added',
    [...circuitReadings(low), filterClean, saw('wrong_refrigerant_marked')],
    'unproven',
    'undecided by this method',
  ],
  [
    'nobody recorded the metering device',
    [...circuitReadings(low), filterClean],
    'unproven',
    'undecided by this method',
    { meteringDevice: undefined, targetSubcoolingDegF: undefined },
  ],
  [
    'an inverter is judged by weight alone',
    [...circuitReadings(low), filterClean],
    'unproven',
    'undecided by this method',
    { compressorMotor: 'inverter' },
  ],
  [
    'low subcooling alone, the valve still holding its superheat',
    circuitReadings({ subcoolingDegF: 4 }),
    'supported',
    'supported',
  ],
  [
    '5.9 F of subcooling cannot be told from 7 F',
    circuitReadings({ subcoolingDegF: 5.9 }),
    'unproven',
    'undecided by this method',
  ],
  ['in order', circuitReadings(), 'contradicted', 'contradicted'],
  [
    'low subcooling under a high head is no low charge',
    circuitReadings({ subcoolingDegF: 4, condensingDegF: 121 }),
    'unproven',
    'looked for, no sign found',
  ],
  [
    'a restriction starves the coil at good subcooling',
    circuitReadings({ ...low, subcoolingDegF: 15 }),
    'unproven',
    'leans against',
  ],
  // A sound valve in a house of 92 F starves too: it cannot feed so much heat.
  [
    'every reading in a house that stands at 92 F: pull-down',
    [...circuitReadings({ ...low, returnDegF: 92, evaporatingDegF: 46 }), filterClean, ...moving],
    'supported',
    'supported',
  ],
  [
    'every reading, 2 minutes after it was first seen to run',
    [...circuitReadings(low), filterClean, seenRunningAt('14:58')],
    'unproven',
    'undecided by this method',
  ],
  [
    'every reading, 20 minutes after',
    [...circuitReadings(low), filterClean, seenRunningAt('14:40')],
    'proven',
    'proven',
  ],
  [
    'every reading, 5 minutes after its breaker was found tripped',
    [
      ...circuitReadings(low),
      filterClean,
      saw('breaker_found_tripped', 'yes', { at: '2026-07-14T14:55:00Z' }),
    ],
    'unproven',
    'undecided by this method',
  ],
  // Liquid under pressure cannot be warmer than it boils at.
  [
    'a liquid line warmer than the refrigerant of the plate could be',
    [...circuitReadings({ ...low, subcoolingDegF: -8 }), filterClean],
    'unproven',
    'undecided by this method',
  ],
  [
    'every reading where no filter drier is fitted',
    [
      ...circuitReadings(low).filter((sign) => !isDrier(sign)),
      filterClean,
      saw('filter_drier_fitted', 'no'),
    ],
    'proven',
    'proven',
  ],
  [
    'no drier fitted, and yet one measured with 9 F across it',
    [
      ...circuitReadings({ ...low, drierDropDegF: 9 }),
      filterClean,
      saw('filter_drier_fitted', 'no'),
    ],
    'supported',
    'supported',
  ],
  [
    'the blower stands: no air, no verdict',
    [
      ...withoutSupply(circuitReadings(low)),
      filterClean,
      ...still,
      saw('indoor_fan_running', 'no'),
    ],
    'unproven',
    'undecided by this method',
  ],
  [
    '0.00 in. w.c. verifies no airflow',
    [...withoutSupply(circuitReadings(low)), filterClean, ...still],
    'supported',
    'supported',
  ],
  // The published charge test of a valve: below the subcooling of its plate refrigerant is added.
  [
    '2 F of subcooling where the plate asks for 10, the valve holding its superheat',
    [...circuitReadings({ subcoolingDegF: 2, superheatDegF: 14 }), filterClean],
    'proven',
    'proven',
  ],
  [
    'the same where the plate gives no subcooling',
    [...circuitReadings({ subcoolingDegF: 2, superheatDegF: 14 }), filterClean],
    'supported',
    'supported',
    { targetSubcoolingDegF: undefined },
  ],
  [
    'the same on a unit of two stages, of which nobody knows the one that ran',
    [...circuitReadings({ subcoolingDegF: 2, superheatDegF: 14 }), filterClean],
    'supported',
    'supported',
    { stages: 2 },
  ],
  [
    'the same with the coil flooded: a valve stuck open',
    [...circuitReadings({ subcoolingDegF: 2, superheatDegF: 1 }), filterClean],
    'unproven',
    'looked for, no sign found',
  ],
  [
    'the same with a high suction: a weak compressor',
    [
      ...circuitReadings({ subcoolingDegF: 2, superheatDegF: 14, evaporatingDegF: 52 }),
      filterClean,
    ],
    'unproven',
    'looked for, no sign found',
  ],
  [
    'fixed orifice, suction too near to tell',
    [...circuitReadings({ ...low, wetBulbDegF: 67, evaporatingDegF: 35 }), filterClean],
    'proven',
    'proven',
    orifice,
  ],
  [
    'fixed orifice, superheat far above its target at good subcooling: a restriction',
    [...circuitReadings({ ...low, wetBulbDegF: 67, subcoolingDegF: 12 }), filterClean],
    'unproven',
    'looked for, no sign found',
    orifice,
  ],
  [
    'fixed orifice, superheat 20 F above its target',
    [...circuitReadings({ ...low, wetBulbDegF: 67 }), filterClean],
    'proven',
    'proven',
    orifice,
  ],
  [
    'fixed orifice on its target',
    circuitReadings({ wetBulbDegF: 67, superheatDegF: 12 }),
    'contradicted',
    'contradicted',
    orifice,
  ],
  [
    'fixed orifice where no target is published',
    [...circuitReadings({ ...low, wetBulbDegF: 58 }), filterClean],
    'supported',
    'supported',
    orifice,
  ],
];
test.each(rows)('low charge: %s', (_name, signs, standing, reason, plate) => {
  expect(standsOutdoors('low_charge', signs, plate)).toEqual([standing, reason]);
});

test('R-407C is judged on its dew line for superheat and on its bubble line for subcooling', () => {
  const glide = { refrigerant: 'R-407C' } as const;
  expect(standsOutdoors('low_charge', circuitReadings(glide), glide)).toEqual([
    'contradicted',
    'contradicted',
  ]);
});

test('a heat pump must be seen cooling before its charge is judged', () => {
  const readings = withoutSupply(circuitReadings(low));
  const heatPump = (signs: Sign[]) =>
    stands(
      'low_charge',
      makeEvidence('heat_pump', { ...circuitPlate, compressorMotor: 'psc' }, [
        ...readings,
        filterClean,
        ...signs,
      ]),
    );
  expect(heatPump([])[0]).toBe('unproven');
  expect(heatPump([saw('thermostat_calling_cooling', 'no')])[0]).toBe('unproven');
  expect(heatPump([saw('thermostat_calling_cooling')])[0]).toBe('supported');
});

test.each([
  ['a heat pump whose motor nobody recorded', 'heat_pump', {}, 'unproven'],
  ['a heat pump with a run capacitor', 'heat_pump', { capacitorHermUf: 45 }, 'proven'],
  [
    'an electronic valve and an unknown motor',
    'condensing_unit',
    { meteringDevice: 'eev' },
    'unproven',
  ],
  [
    'a motor of one speed',
    'condensing_unit',
    { meteringDevice: 'eev', compressorMotor: 'psc' },
    'proven',
  ],
] as const)('%s may vary its speed', (_name, kind, plate, standing) => {
  const evidence = makeEvidence(kind, { ...circuitPlate, ...plate }, [
    ...circuitReadings(low),
    filterClean,
  ]);
  expect(stands('low_charge', evidence)[0]).toBe(standing);
});

describe('in a system of several machines', () => {
  const condenser = outdoorUnit([...circuitReadings(low), filterClean], circuitPlate);
  const coil = (nameplate: Nameplate): Machine => ({
    id: 'unit-2',
    kind: 'evaporator_coil',
    nameplate,
  });

  test('the refrigerant is that of the machine with the compressor, never the coil’s', () => {
    const { nameplate } = condenser.equipment;
    const { refrigerant: _faded, ...unread } = nameplate;
    const evidence = {
      ...condenser,
      equipment: { ...condenser.equipment, nameplate: unread },
      system: [coil({ refrigerant: 'R-410A' })],
    };
    expect(stands('low_charge', evidence)).toEqual(['unproven', 'undecided by this method']);
  });

  test('the metering device is that of the coil, whatever the outdoor unit asks for', () => {
    // 7.5 F of subcooling is enough for an orifice, and too near to tell from the 7 F of a valve.
    const signs = circuitReadings({ wetBulbDegF: 67, subcoolingDegF: 7.5, superheatDegF: 12 });
    const evidence = (meteringDevice: 'fixed_orifice' | 'txv') => ({
      ...outdoorUnit([...signs, filterClean], circuitPlate),
      system: [coil({ meteringDevice })],
    });
    expect(stands('low_charge', evidence('fixed_orifice'))[0]).toBe('contradicted');
    expect(stands('low_charge', evidence('txv'))[0]).not.toBe('contradicted');
  });

  test('the gauges of a second outdoor unit say nothing of this one', () => {
    const second: Machine = { ...condenser.equipment, id: 'unit-2' };
    const evidence = {
      ...condenser,
      system: [second],
      readings: condenser.readings.map((each) => ({ ...each, equipmentId: 'unit-2' })),
      observations: condenser.observations.map((each) => ({ ...each, equipmentId: 'unit-2' })),
    };
    expect(stands('low_charge', evidence)).toEqual(['unproven', 'nothing recorded']);
    const other = { ...evidence, equipment: second, system: [condenser.equipment] };
    expect(stands('low_charge', other)[0]).toBe('proven');
  });
});

test('nobody adds refrigerant before airflow, ice and leaks were looked at', () => {
  const bare = outdoorUnit([ounces(80), line], circuitPlate);
  expect(exclusionsMissing('low_charge', bare)).toHaveLength(4);
  const done = outdoorUnit(
    [
      ...circuitReadings(low),
      filterClean,
      saw('ice_on_coil_or_line', 'no'),
      saw('refrigerant_leak_looked_for'),
    ],
    circuitPlate,
  );
  expect(exclusionsMissing('low_charge', done)).toEqual([]);
});

test('the reason has the numbers', () => {
  const evidence = outdoorUnit([ounces(80), line], circuitPlate);
  const { criteria } = evidenceRulesets[currentEvidenceRuleset].weigh('low_charge', evidence);
  expect(criteria.find(({ id }) => id === 'weighed_low')?.detail).toBe(
    '69.0 % measured by scale, of what nameplate and line set ask for; with what a recovery leaves behind it is low below 90.0 %; this method is good to 0.6 %.',
  );
});

function withoutSupply(signs: readonly Sign[]): Sign[] {
  return signs.filter((sign) => !('reading' in sign && sign.reading.point === 'supply_air'));
}
