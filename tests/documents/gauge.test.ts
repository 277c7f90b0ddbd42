import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { gaugeInks, gaugeScale } from '../../src/documents/gauge.ts';
import type { PaperMeasurement } from '../../src/documents/index.ts';
import type { Ink } from '../../src/documents/page-plan.ts';

const box = { xPt: 100, yPt: 50, widthPt: 200 };
const measure = (text: string) => text.length * 4;
const limitWords = (limit: string) => `limit ${limit}`;
const reading: PaperMeasurement = {
  label: 'Capacitor',
  value: 31.2,
  unit: 'μF',
  decimals: 1,
  low: 40.5,
  high: 47.7,
  uncertainty: 0.9,
  verdict: 'outside',
  limitText: '',
};

function markerX(inks: Ink[]): number {
  const marker = inks.at(-1);
  if (marker?.kind === 'circle') return marker.centerPt[0];
  if (marker?.kind === 'polygon') return marker.pointsPt[0]?.[0] ?? Number.NaN;
  throw new Error('A gauge ends with its marker.');
}

function bandEdges(inks: Ink[]): [number, number] {
  const band = inks[1];
  if (band?.kind !== 'rectangle') throw new Error('The band follows the track.');
  return [band.xPt, band.xPt + band.widthPt];
}

const measurements = fc
  .record({
    value: fc.integer({ min: -100_000, max: 100_000 }),
    limits: fc.tuple(fc.integer({ min: -100_000, max: 100_000 }), fc.nat(100_000)),
    sides: fc.constantFrom('both', 'low', 'high'),
    uncertainty: fc.nat(1_000),
  })
  .map(
    ({ value, limits: [low, width], sides, uncertainty }): PaperMeasurement => ({
      ...reading,
      value,
      uncertainty,
      low: sides === 'high' ? undefined : low,
      high: sides === 'low' ? undefined : low + width,
    }),
  );

describe('the gauge beside a reading', () => {
  it('shows the marker inside the band exactly when the reading is inside its limits', () => {
    fc.assert(
      fc.property(measurements, (measurement) => {
        const inks = gaugeInks(measurement, box, measure, limitWords);
        const [from, to] = bandEdges(inks);
        const { value, low = -Infinity, high = Infinity } = measurement;
        if (value > low && value < high) {
          expect(markerX(inks)).toBeGreaterThan(from);
          expect(markerX(inks)).toBeLessThan(to);
        } else if (value < low) {
          expect(markerX(inks)).toBeLessThan(from);
        } else if (value > high) {
          expect(markerX(inks)).toBeGreaterThan(to);
        }
      }),
    );
  });

  it('keeps the reading, its uncertainty and all limits within the picture', () => {
    fc.assert(
      fc.property(measurements, (measurement) => {
        const { from, to } = gaugeScale(measurement);
        const { value, uncertainty = 0, low = value, high = value } = measurement;
        expect(from).toBeLessThan(Math.min(value - uncertainty, low));
        expect(to).toBeGreaterThan(Math.max(value + uncertainty, high));
        for (const ink of gaugeInks(measurement, box, measure, limitWords)) {
          if (ink.kind !== 'text') continue;
          expect(ink.xPt).toBeGreaterThanOrEqual(box.xPt);
          expect(ink.xPt + measure(ink.text.trim())).toBeLessThanOrEqual(
            box.xPt + box.widthPt + 1e-9,
          );
        }
      }),
    );
  });

  it('keeps a pair drawn to one scale within the picture, and what is more stands farther right', () => {
    fc.assert(
      fc.property(measurements, fc.integer({ min: -100_000, max: 100_000 }), (before, value) => {
        const after = { ...before, value };
        const [first, second] = [
          gaugeInks(before, box, measure, limitWords, after),
          gaugeInks(after, box, measure, limitWords, before),
        ];
        for (const inks of [first, second]) {
          expect(markerX(inks)).toBeGreaterThanOrEqual(box.xPt);
          expect(markerX(inks)).toBeLessThanOrEqual(box.xPt + box.widthPt + 7);
        }
        if (before.value < value) expect(markerX(first)).toBeLessThanOrEqual(markerX(second));
        if (before.value > value) expect(markerX(first)).toBeGreaterThanOrEqual(markerX(second));
      }),
    );
  });

  it('stays on the page when a limit is next to nothing', () => {
    const far = { ...reading, low: undefined, high: 1e-20, value: 1e-19, uncertainty: 0 };
    const near = { ...far, value: 20, uncertainty: 40 };
    for (const inks of [
      gaugeInks(far, box, measure, limitWords, near),
      gaugeInks(near, box, measure, limitWords, far),
    ]) {
      for (const ink of inks) {
        if (ink.kind !== 'line') continue;
        expect(Math.abs(ink.fromPt[0])).toBeLessThanOrEqual(box.xPt + box.widthPt + 2);
        expect(Math.abs(ink.toPt[0])).toBeLessThanOrEqual(box.xPt + box.widthPt + 2);
      }
    }
  });

  it('tells the three verdicts apart by shape, not by color alone', () => {
    const shape = (verdict: PaperMeasurement['verdict']) => {
      const marker = gaugeInks({ ...reading, verdict }, box, measure, limitWords).at(-1);
      if (marker?.kind === 'circle') return marker.fill === '#ffffff' ? 'ring' : 'dot';
      return marker?.kind;
    };
    expect([shape('within'), shape('undecided'), shape('outside')]).toEqual([
      'dot',
      'ring',
      'polygon',
    ]);
  });

  it('keeps the numbers of two close limits apart', () => {
    const texts = gaugeInks(
      { ...reading, low: 40, high: 40.1, value: 90 },
      box,
      measure,
      limitWords,
    ).filter((ink) => ink.kind === 'text');
    const [first, second] = texts;
    expect((first?.xPt ?? 0) + measure('40.0')).toBeLessThan(second?.xPt ?? 0);
  });

  it('breaks its scale for a reading of more than three times its limit, and writes both out', () => {
    const far = { ...reading, value: 118, unit: 'V', decimals: 0, low: undefined, high: 3 };
    const inks = gaugeInks({ ...far, uncertainty: 1.5 }, box, measure, limitWords);
    const texts = inks.filter((ink) => ink.kind === 'text').map(({ text }) => text.trim());
    expect(texts).toEqual(['limit 3 V', '118 V']);
    const slanted = inks.filter((ink) => ink.kind === 'line' && ink.fromPt[0] !== ink.toPt[0]);
    expect(slanted.length).toBe(3); // Two strokes of the break, and the bar of the uncertainty.
    const near = gaugeInks({ ...far, value: 8, uncertainty: 0.5 }, box, measure, limitWords);
    expect(near.filter((ink) => ink.kind === 'text').map(({ text }) => text.trim())).toEqual(['3']);
  });

  it('starts at nothing where nothing negative is shown', () => {
    expect(gaugeScale({ ...reading, low: undefined, high: 3, value: 8.5 }).from).toBe(0);
    expect(gaugeScale({ ...reading, low: -3, high: 3, value: 0 }).from).toBeLessThan(-3);
  });
});
