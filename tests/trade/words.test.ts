import { expect, test } from 'vitest';
import {
  observationCodeSchema,
  observationWords,
  quantitySchema,
  unitOfQuantity,
  unitSchema,
} from '../../src/trade/index.ts';

test('a homeowner is never asked to open a panel, touch a capacitor or push in a contactor', () => {
  const forAnyone = observationCodeSchema.options.filter(
    (code) => observationWords[code].by === 'anyone',
  );
  // What can be seen or heard from outside, or done at the thermostat and the breaker panel's door.
  expect(forAnyone.sort()).toEqual([
    'breaker_found_tripped',
    'breaker_trips_again',
    'drain_pan_full',
    'indoor_fan_running',
    'outdoor_fan_hums',
    'outdoor_fan_running',
    'thermostat_calling_cooling',
  ]);
});

test('every quantity has a unit of its own, and every unit its quantity', () => {
  const units = quantitySchema.options.map((quantity) => unitOfQuantity[quantity]);
  expect([...units].sort()).toEqual([...unitSchema.options].sort());
});
