import { expect, test } from 'vitest';
import {
  handlesRefrigerant,
  pointCodeSchema,
  pointWords,
  quantitySchema,
  readsRefrigerant,
  taskCodeSchema,
} from '../../src/trade/index.ts';
import { checkWords } from '../../src/trade/words/checks.ts';
import { refrigerantPoints } from '../../src/trade/words/points/refrigerant.ts';

test('gauges, vacuum and scale are read at the refrigerant circuit and nowhere else', () => {
  const points = pointCodeSchema.options.filter((point) =>
    quantitySchema.options.some(
      (quantity) => pointWords[point].ranges[quantity] && readsRefrigerant({ quantity }),
    ),
  );
  expect(points.sort()).toEqual([
    'evacuated_system',
    'liquid_port',
    'recovered_charge',
    'suction_port',
  ]);
  for (const point of points) expect(refrigerantPoints).toHaveProperty(point);
});

test('a check that takes such a reading says that it is done with gauges, and no other does', () => {
  for (const [code, { care, readings }] of Object.entries(checkWords)) {
    const quantities = readings.map((each) => quantitySchema.parse(each.split('.')[1]));
    const opens = quantities.some((quantity) => readsRefrigerant({ quantity }));
    if (opens) expect(care, code).toBe('gauges');
    if (care !== 'gauges') expect(opens, code).toBe(false);
  }
});

test('the certificate is asked for whatever opens the circuit or moves its charge, and for no more', () => {
  expect(taskCodeSchema.options.filter(handlesRefrigerant).sort()).toEqual([
    'add_refrigerant',
    'remove_refrigerant',
    'renew_charge',
    'repair_leak',
    'replace_compressor',
    'replace_filter_drier',
    'replace_metering_device',
    'replace_outdoor_unit',
    'replace_reversing_valve',
  ]);
});
