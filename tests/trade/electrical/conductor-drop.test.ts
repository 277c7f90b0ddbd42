import { expect, test } from 'vitest';
import { conductorDrop } from '../../../src/trade/electrical/conductor-drop.ts';

// The first three are published voltage-drop examples; the last is computed by the same formula.
test.each([
  [20, 100, 120, 12, 7.9, 6.59],
  [20, 100, 120, 10, 4.97, 4.14],
  [20, 100, 120, 8, 3.13, 2.6],
  [23.5, 80, 240, 10, 4.67, 1.95],
] as const)(
  '%d A over %d ft of copper on %d V, %d AWG',
  (amps, oneWayFt, supplyVolts, gaugeAwg, volts, percent) => {
    const drop = conductorDrop({ amps, oneWayFt, supplyVolts, gaugeAwg, metal: 'copper' });
    expect(drop.volts).toBeCloseTo(volts, 2);
    expect(drop.percent).toBeCloseTo(percent, 1);
  },
);

test('aluminum loses 21.2 / 12.9 of what copper loses', () => {
  const circuit = { amps: 20, oneWayFt: 100, supplyVolts: 120, gaugeAwg: 10 } as const;
  const copper = conductorDrop({ ...circuit, metal: 'copper' });
  const aluminum = conductorDrop({ ...circuit, metal: 'aluminum' });
  expect(aluminum.volts / copper.volts).toBeCloseTo(21.2 / 12.9, 9);
});
