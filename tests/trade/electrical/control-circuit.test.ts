import { describe, expect, it, test } from 'vitest';
import { boardFuseFit, opensOnlyOnShort } from '../../../src/trade/electrical/board-fuse.ts';
import { contactHeatWatts } from '../../../src/trade/electrical/contact-drop.ts';
import { controlWireDropVolts } from '../../../src/trade/electrical/control-wire-drop.ts';
import { judgeSecondary } from '../../../src/trade/electrical/secondary-voltage.ts';
import { secondaryAmps, transformerLoad } from '../../../src/trade/electrical/transformer.ts';

// First principles: I = VA / 24.
test.each([
  [20, 0.833],
  [40, 1.667],
  [50, 2.083],
  [75, 3.125],
  [100, 4.167],
])('a transformer of %d VA gives %d A', (va, amps) => {
  expect(secondaryAmps(va)).toBeCloseTo(amps, 3);
});

// Coil figures are common practice, no source.
test('contactor 9, board 5, thermostat 1 and humidifier 10 VA are 62.5 % of 40 VA', () => {
  expect(transformerLoad([9, 5, 1, 10], 40)).toEqual({ loadVa: 25, percentOfRating: 62.5 });
});

// From memory of NEC chapter 9, table 8.
test('0.40 A through 100 ft of 18 AWG and back lose 0.62 V, of 16 AWG less', () => {
  const drop = controlWireDropVolts({ oneWayFt: 100, amps: 0.4, gaugeAwg: 18 });
  expect(drop).toBeCloseTo(0.62, 2);
  expect(controlWireDropVolts({ oneWayFt: 100, amps: 0.4, gaugeAwg: 16 })).toBeLessThan(drop);
});

// First principles: P = V x I.
test.each([
  [3, 18, 54],
  [0.5, 18, 9],
])('%d V over a closed contact at %d A are %d W of heat', (volts, amps, watts) => {
  expect(contactHeatWatts(volts, amps)).toBe(watts);
});

// Common practice, no source.
describe('what the two sides of a transformer say', () => {
  it.each([
    ['nothing out, fuse good', 120, 0, 'good', false, 'open_winding'],
    ['nothing out, fuse open', 120, 0, 'open', false, 'fuse_first'],
    ['nothing out, fuse not looked at', 120, 0, 'unknown', false, 'fuse_first'],
    ['nothing in', 0, 0, 'good', false, 'not_fed'],
    ['26 V unloaded', 240, 26, 'good', false, 'good'],
    ['24.5 V unloaded', 240, 24.5, 'good', false, 'good'],
    ['22 V under load', 240, 22, 'good', true, 'good'],
    ['22 V unloaded', 240, 22, 'good', false, 'low'],
    ['17 V under load', 240, 17, 'good', true, 'low'],
    ['31 V', 240, 31, 'good', false, 'high'],
    ['a supply that may be too low to tell', 104, 12, 'good', false, 'undecided'],
    ['so near the limit that the meter cannot tell', 240, 20.1, 'good', true, 'undecided'],
    ['stray volts or a weak supply', 240, 5.1, 'good', false, 'undecided'],
  ] as const)('%s', (_what, primary, secondary, fuse, loaded, verdict) => {
    const transformer = {
      primary: { volts: primary, uncertaintyVolts: 1.5 },
      secondary: { volts: secondary, uncertaintyVolts: 0.3 },
      fuse,
      loaded,
    };
    expect(judgeSecondary(transformer)).toBe(verdict);
  });
});

// Common practice, no source.
describe('the fuse of a board', () => {
  it.each([
    [3, 3, 'fits'],
    [3, 5, 'too_large'],
    [5, 3, 'too_small'],
  ] as const)('a board for %d A with %d A fitted: %s', (boardAmps, fittedAmps, fit) => {
    expect(boardFuseFit({ boardAmps, fittedAmps })).toBe(fit);
  });

  it('5 A behind 40 VA open on a short only, behind 150 VA by an honest load, too', () => {
    expect(opensOnlyOnShort(5, 40)).toBe(true);
    expect(opensOnlyOnShort(5, 150)).toBe(false);
  });
});
