import { type PointWords, range } from './point.ts';

const airDegF = range(-20, 150, 40, 110);
const wetBulbDegF = range(-20, 110, 40, 85);
const humidity = range(0, 100, 15, 95);

/** Air through the house and the machine. Ranges: common practice, no source. */
export const airPoints = {
  return_air: {
    name: 'return air',
    on: 'indoor',
    scope: 'system',
    ranges: {
      temperature: airDegF,
      wet_bulb_temperature: wetBulbDegF,
      relative_humidity: humidity,
    },
  },
  supply_air: {
    name: 'supply air',
    on: 'indoor',
    scope: 'system',
    ranges: {
      temperature: airDegF,
      wet_bulb_temperature: wetBulbDegF,
      relative_humidity: humidity,
      airflow: range(0, 5_000, 300, 2_500),
    },
  },
  outdoor_air: {
    name: 'outdoor air',
    on: 'outdoor',
    scope: 'system',
    ranges: {
      temperature: airDegF,
      wet_bulb_temperature: wetBulbDegF,
      relative_humidity: humidity,
    },
  },
  condenser_air_in: {
    name: 'air into the outdoor coil',
    on: 'outdoor',
    scope: 'system',
    ranges: { temperature: airDegF },
  },
  return_static: {
    name: 'static pressure before the blower',
    on: 'indoor',
    scope: 'system',
    ranges: { static_pressure: range(-4, 0.5, -1.2, -0.02) },
  },
  supply_static: {
    name: 'static pressure after the blower',
    on: 'indoor',
    scope: 'system',
    ranges: { static_pressure: range(-0.5, 4, 0.02, 1.2) },
  },
  filter_drop: {
    name: 'pressure across the filter',
    on: 'indoor',
    scope: 'system',
    ranges: { static_pressure: range(0, 4, 0.02, 1) },
  },
  indoor_coil_drop: {
    name: 'pressure across the indoor coil',
    on: 'indoor',
    scope: 'system',
    ranges: { static_pressure: range(0, 4, 0.05, 1) },
  },
  heating_return_air: {
    name: 'return air while heating at full input',
    on: 'indoor',
    scope: 'system',
    ranges: { temperature: range(0, 120, 50, 85) },
  },
  heating_supply_air: {
    name: 'supply air while heating at full input',
    on: 'indoor',
    scope: 'system',
    ranges: { temperature: range(0, 250, 80, 170) },
  },
} as const satisfies Record<string, PointWords>;
