import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { thermistorFallPerDegF, thermistorOhms } from '../../../src/trade/electrical/thermistor.ts';

const sheet = { ohmsAt77F: 10_000, betaK: 3977 };

describe('the resistance of a temperature sensor', () => {
  test('is the one of its plate at 77 F', () => {
    expect(thermistorOhms(sheet, 77)).toBe(10_000);
  });

  // A published data sheet of a 10 kilo-ohm, 3977 K thermistor, from memory: 1,070 ohm at 85 C.
  test('meets a published data sheet where its beta was taken', () => {
    expect(thermistorOhms(sheet, 185)).toBeCloseTo(1_070, -1);
  });

  // The same data sheet gives 32.56 kilo-ohm at 0 C; its own remark: 5.08 % for each kelvin there.
  test('misses that sheet by 4 % at 32 F, as one beta must', () => {
    expect(thermistorOhms(sheet, 32)).toBeCloseTo(33_901, -1);
    expect(thermistorOhms(sheet, 32) / 32_560 - 1).toBeCloseTo(0.041, 3);
    expect(thermistorFallPerDegF(sheet, 32) * 1.8).toBeCloseTo(0.0533, 4);
  });

  test('gives back its beta from any two temperatures, as beta is defined', () => {
    const temperature = fc.double({ min: -40, max: 250, noNaN: true });
    fc.assert(
      fc.property(temperature, temperature, (one, other) => {
        fc.pre(Math.abs(one - other) > 1);
        const [t1, t2] = [kelvin(one), kelvin(other)];
        const [r1, r2] = [thermistorOhms(sheet, one), thermistorOhms(sheet, other)];
        expect(Math.log(r1 / r2) / (1 / t1 - 1 / t2)).toBeCloseTo(3977, 4);
      }),
    );
  });

  test('falls by the share that its slope says', () => {
    const temperature = fc.double({ min: -40, max: 250, noNaN: true });
    fc.assert(
      fc.property(temperature, (tempDegF) => {
        const around =
          (thermistorOhms(sheet, tempDegF - 0.01) - thermistorOhms(sheet, tempDegF + 0.01)) / 0.02;
        const share = around / thermistorOhms(sheet, tempDegF);
        expect(thermistorFallPerDegF(sheet, tempDegF)).toBeCloseTo(share, 6);
      }),
    );
  });
});

function kelvin(tempDegF: number): number {
  return (tempDegF + 459.67) / 1.8;
}
