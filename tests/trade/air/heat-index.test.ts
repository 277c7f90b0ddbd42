import { describe, expect, it } from 'vitest';
import { heatCategory, heatIndexDegF } from '../../../src/trade/air/heat-index.ts';

describe('the heat index is the National Weather Service', () => {
  // Computed from the Weather Service's equations; the last column is its printed chart (Tulsa).
  it.each([
    [80, 40, 79.79, 80],
    [82, 60, 84.43, 84],
    [90, 40, 90.68, 91],
    [90, 70, 105.92, 106],
    [90, 85, 117.47, 117],
    [92, 70, 112.18, 112],
    [94, 80, 129.38, 129],
    [96, 65, 121.03, 121],
    [100, 50, 118.32, 118],
    [104, 55, 137.36, 137],
    [110, 40, 135.66, 136],
    [88, 100, 121.21, 121],
  ])('%d F at %d %% feels like %d, printed as %d', (degF, percent, index, printed) => {
    const computed = heatIndexDegF(degF, percent) ?? Number.NaN;
    expect(computed).toBeCloseTo(index, 2);
    expect(Math.round(computed)).toBe(printed);
  });

  // The adjustments and the simple average, as computed; public tests of weather libraries have
  // 104 for the second.
  it.each([
    ['damp, adjusted up', 84, 100, 103.56],
    ['damp, adjusted up', 86, 88, 104.19],
    ['dry, adjusted down', 95, 10, 89.45],
    ['dry, adjusted down', 85, 8, 81.13],
    ['dry, adjusted down', 111, 5, 102.38],
    ['dry, too hot to adjust', 113, 12, 109.4],
    ['just not dry enough to adjust', 90, 13, 85.91],
    ['mild, simple average', 78, 60, 78.16],
  ])('%s: %d F at %d %% feels like %d', (_which, degF, percent, index) => {
    expect(heatIndexDegF(degF, percent)).toBeCloseTo(index, 2);
  });

  it('the printed chart leaves out the adjustment that public code adds at 84 F and 100 %', () => {
    expect(Math.round(heatIndexDegF(84, 100) ?? Number.NaN)).not.toBe(103);
  });

  it.each([-1, 101, Number.NaN])('no air has %d %% of humidity', (percent) => {
    expect(heatIndexDegF(90, percent)).toBeUndefined();
  });
});

// The more cautious of the two versions the Weather Service has published; the other one begins
// danger at 105 and extreme danger at 130.
describe('a person in the heat is warned by the more cautious scale', () => {
  it.each([
    [79.4, 'none'],
    [79.5, 'caution'],
    [80, 'caution'],
    [89.4, 'caution'],
    [90, 'extreme_caution'],
    [102.4, 'extreme_caution'],
    [102.6, 'danger'],
    [104, 'danger'],
    [124.4, 'danger'],
    [125, 'extreme_danger'],
    [129, 'extreme_danger'],
  ] as const)('%d F is %s', (index, category) => {
    expect(heatCategory(index)).toBe(category);
  });
});
