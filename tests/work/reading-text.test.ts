import { describe, expect, test } from 'vitest';
import { readingText } from '../../src/work/reading-text.ts';

describe('a reading on the record of the work says where and how much', () => {
  test.each([
    ['line_supply', 'voltage', 240.4, 'V', 'Line voltage at the unit: 240 V'],
    ['supply_air', 'temperature', 55, '[degF]', 'Supply air: 55.0 °F'],
    ['contactor_pole_1', 'voltage', 0.05, 'V', 'First pole of the contactor: 0.05 V'],
  ])('%s', (point, quantity, value, unit, text) => {
    expect(readingText({ point, quantity, value, unit }, 'en')).toBe(text);
  });

  test('in Spanish too', () => {
    const reading = { point: 'line_supply', quantity: 'voltage', value: 240.4, unit: 'V' };
    expect(readingText(reading, 'es')).toBe('Voltaje, alimentación en el equipo: 240 V');
  });
});
