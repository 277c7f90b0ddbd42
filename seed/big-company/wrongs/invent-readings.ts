import type { Scenario } from '../scenarios.ts';

/**
 * Readings that nobody took: the same volts every time, and a capacitor always just as far gone as
 * has to be to sell a new one.
 */
export const inventReadings: Scenario['record'] = (notes, { capacitorHermUf = 0 }, random) => {
  const uf = capacitorHermUf * random.between(JUST_PAST.low, JUST_PAST.high);
  const amps = (uf * 2 * Math.PI * HERTZ * ALWAYS_VOLTS) / 1e6;
  notes.see('compressor_hums', 'yes');
  notes.read('current', 'capacitor_herm', 'clamp_meter', Math.round(amps * 100) / 100);
  notes.read('voltage', 'capacitor_herm', 'clamp_meter', ALWAYS_VOLTS);
};

const ALWAYS_VOLTS = 350;
const HERTZ = 60;
const JUST_PAST = { low: 0.86, high: 0.895 };
