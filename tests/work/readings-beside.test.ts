import { describe, expect, test } from 'vitest';
import type { Criterion, Measurement } from '../../src/trade/index.ts';
import { readingsBeside } from '../../src/work/readings-beside.ts';

// What the record of the work shows of the figures that were weighed, before and after.

const volts = (value: number, limits: Partial<Measurement>): Measurement => ({
  ...{ label: 'Line voltage', value, unit: 'V', uncertainty: 1 },
  ...limits,
});
const farads = (value: number, limits: Partial<Measurement>): Measurement => ({
  ...{ label: 'Capacitor, compressor section', value, unit: 'uF', uncertainty: 0.5 },
  ...limits,
});

function sign(id: string, change: Partial<Criterion>): Criterion {
  return {
    ...{ id, statement: 'A sign.', direction: 'for', weight: 'decisive', outcome: 'met' },
    ...{ detail: '', readingIds: [], observationIds: [] },
    ...change,
  };
}

const failed = (value: number, outcome: Criterion['outcome']) =>
  sign('failed', { outcome, measurement: farads(value, { low: 40.5 }) });
const noVolts = (value: number, outcome: Criterion['outcome']) =>
  sign('no_volts', { outcome, measurement: volts(value, { low: 197 }) });

function shown(before: readonly Criterion[], after: readonly Criterion[] = []) {
  return readingsBeside(before, after, 'en').map((pair) => ({
    label: (pair.before ?? pair.after)?.label,
    before: pair.before && `${pair.before.value} ${pair.before.verdict}`,
    after: pair.after && `${pair.after.value} ${pair.after.verdict}`,
  }));
}

describe('the record of the work shows', () => {
  test('what spoke for a finding, with the same thing after the work', () => {
    expect(shown([failed(31, 'met')], [failed(45, 'not_met')])).toEqual([
      { label: 'Capacitor, compressor section', before: '31 outside', after: '45 within' },
    ]);
  });

  test('what was measured beside it and is sound, after what spoke', () => {
    expect(shown([noVolts(240, 'not_met'), failed(31, 'met')])).toEqual([
      { label: 'Capacitor, compressor section', before: '31 outside', after: undefined },
      { label: 'Line voltage', before: '240 within', after: undefined },
    ]);
  });

  test('what was too near to a limit to tell', () => {
    expect(shown([noVolts(197.5, 'undecided')])).toEqual([
      { label: 'Line voltage', before: '197.5 undecided', after: undefined },
    ]);
  });

  test('what was read after the work alone', () => {
    expect(shown([sign('bulged', {})], [failed(45, 'not_met')])).toEqual([
      { label: 'Capacitor, compressor section', before: undefined, after: '45 within' },
    ]);
  });

  test('each thing once, by the limit that spoke', () => {
    const both = [
      sign('sound', { direction: 'against', outcome: 'not_met', measurement: farads(31, {}) }),
      failed(31, 'met'),
    ];
    expect(shown(both)).toHaveLength(1);
  });

  // A sign against a fault is met on the sound side, so its one limit lies behind a sound figure.
  test.each([
    ['above', { high: 197 }, 180],
    ['below', { low: 0.5 }, 2],
  ])('a figure that fails to speak for a sound machine as outside (%s)', (_, limits, value) => {
    const criterion = sign('sound', {
      ...{ direction: 'against', outcome: 'not_met', measurement: volts(value, limits) },
    });
    expect(shown([criterion])).toEqual([
      { label: 'Line voltage', before: `${value} outside`, after: undefined },
    ]);
  });

  test('no gauge where the limit alone says nothing', () => {
    // A coil that is fed is no fault: only a contactor that stays closed at a dead one is.
    const fed = sign('dead_coil', { outcome: 'not_met', measurement: volts(24, { high: 3 }) });
    const open = sign('sound', {
      ...{ direction: 'against', outcome: 'undecided', measurement: volts(24, { high: 24.5 }) },
    });
    expect(shown([fed, open])).toEqual([]);
  });
});
