import fc from 'fast-check';
import { describe, expect, it, test } from 'vitest';
import {
  capacitorAmps,
  capacitorDeviationPercent,
  capacitorReactanceOhms,
} from '../../../src/trade/electrical/capacitor-deviation.ts';
import { runningCapacitanceUf } from '../../../src/trade/electrical/running-capacitance.ts';
import {
  bleederOhmsMax,
  bleederPeakWatts,
  bleedSeconds,
  peakVolts,
  storedEnergyJoules,
} from '../../../src/trade/electrical/stored-charge.ts';

describe('how far a capacitor is from its rating', () => {
  // Computed by first principles, Xc = 1/(2*pi*f*C).
  it.each([
    [4.2, 345, 35, -7.74],
    [5.2, 350, 45, -12.42],
    [0.63, 348, 5, -3.96],
  ])('%d A at %d V of a %d uF section is %d %%', (amps, volts, rated, percent) => {
    const measured = runningCapacitanceUf(amps, volts);
    expect(capacitorDeviationPercent(measured, rated)).toBeCloseTo(percent, 2);
  });

  it.each([
    [5, 0.697, 530.5],
    [35, 4.882, 75.79],
    [45, 6.277, 58.95],
  ])('a sound %d uF passes %d A at 370 V, %d ohm', (rated, amps, ohms) => {
    expect(capacitorAmps(rated, 370)).toBeCloseTo(amps, 3);
    expect(capacitorReactanceOhms(rated)).toBeCloseTo(ohms, 1);
  });

  test('the current of a capacitance gives that capacitance back', () => {
    const anyUf = fc.double({ min: 1, max: 150, noNaN: true });
    const anyVolts = fc.double({ min: 100, max: 600, noNaN: true });
    fc.assert(
      fc.property(anyUf, anyVolts, (capacitanceUf, volts) => {
        const back = runningCapacitanceUf(capacitorAmps(capacitanceUf, volts), volts);
        expect(back).toBeCloseTo(capacitanceUf, 9);
      }),
    );
  });
});

// First principles: E = C V^2 / 2 at the peak, t = R C ln(V0 / V).
describe('what a capacitor may still hold', () => {
  it.each([
    [45, 370, 523.3, 6.16],
    [80, 440, 622.3, 15.49],
  ])('%d uF that ran at %d V: %d V and %d J', (capacitanceUf, volts, peak, joules) => {
    expect(peakVolts(volts)).toBeCloseTo(peak, 1);
    expect(storedEnergyJoules(capacitanceUf, volts)).toBeCloseTo(joules, 2);
  });

  const charged = { capacitanceUf: 45, fromVolts: peakVolts(370) };

  it.each([
    [20_000, 4.19],
    [15_000, 3.14],
  ])('through %d ohm it is down to 5 V after %d s', (resistorOhms, seconds) => {
    expect(bleedSeconds({ ...charged, toVolts: 5, resistorOhms })).toBeCloseTo(seconds, 2);
  });

  it('20,000 ohm take 13.7 W at first', () => {
    expect(bleederPeakWatts(charged.fromVolts, 20_000)).toBeCloseTo(13.7, 1);
  });

  // From memory of NEC 460.6: 50 V within a minute.
  it('568,000 ohm built in are the most that meet 50 V within a minute', () => {
    const ohms = bleederOhmsMax({ ...charged, toVolts: 50, seconds: 60 });
    expect(ohms / 1000).toBeCloseTo(568, 0);
    expect(bleedSeconds({ ...charged, toVolts: 50, resistorOhms: ohms })).toBeCloseTo(60, 9);
  });
});
