import fc from 'fast-check';
import { describe, expect, it, test } from 'vitest';
import {
  breakerFit,
  compressorOverloadAmpsMax,
  disconnectAmpsMin,
  maximumBreakerAmps,
  minimumCircuitAmps,
  motorOverloadAmpsMax,
  standardBreakerAmps,
} from '../../../src/trade/electrical/circuit-sizing.ts';

// A manufacturer's manual has the formula (NEC 440.33); outputs computed.
test.each([
  [17.9, 1.1, 23.475],
  [12.8, 0.8, 16.8],
  [21.8, 1.4, 28.65],
  [20, 2.5, 27.5],
])('a compressor of %d A and a fan of %d A need a circuit of %d A', (rla, fan, mca) => {
  expect(minimumCircuitAmps([rla, fan])).toBeCloseTo(mca, 9);
});

describe('the largest breaker a unit may be on', () => {
  // The first two and the last are a public code quiz's answers (NEC 440.22); the others computed.
  it.each([
    [[20, 2.5], 1.75, 35],
    [[20, 2.5], 2.25, 45],
    [[17.9, 1.1], 2.25, 40],
    [[17.9, 1.1], 1.75, 30],
    [[12.8, 0.8], 2.25, 25],
    [[21.8, 1.4], 2.25, 50],
    [[16.7, 1.2], 2.25, 35],
    [[40], 1.75, 70],
  ] as const)('%j at %d is on %d A at most', (motors, factor, breaker) => {
    expect(maximumBreakerAmps(motors, factor)).toBe(breaker);
  });

  // From memory of the exception to NEC 440.22(A).
  it('is never below 15 A, however small the unit', () => {
    expect(maximumBreakerAmps([6.4, 0.5], 2.25)).toBe(15);
    expect(maximumBreakerAmps([6.4, 0.5], 1.75)).toBe(15);
  });

  // Reprints of NEC 240.6(A) up to 600 A, above that from memory of it.
  it('is one of the sizes that are made', () => {
    const upTo600 =
      '15 20 25 30 35 40 45 50 60 70 80 90 100 110 125 150 175 200 225 250 300 350 400 450 500 600';
    expect(standardBreakerAmps.join(' ')).toBe(`${upTo600} 700 800 1000 1200`);
  });

  it('is never 55 or 65 A, as no such breaker exists', () => {
    expect(standardBreakerAmps).not.toContain(55);
    expect(standardBreakerAmps).not.toContain(65);
    expect(maximumBreakerAmps([25], 2.25)).toBe(50);
    expect(maximumBreakerAmps([28.9], 2.25)).toBe(60);
  });

  const sizes: readonly number[] = standardBreakerAmps;

  // Written in hundredths, as plates are, so that a product may be a size exactly.
  const anyMotors = fc
    .array(fc.integer({ min: 5, max: 20_000 }), { minLength: 1, maxLength: 4 })
    .map((hundredths) => hundredths.map((each) => each / 100));
  const anyFactor = fc.constantFrom(1.75 as const, 2.25 as const);

  test('is a standard size, never above its limit but for the floor, and the next size is', () => {
    fc.assert(
      fc.property(anyMotors, anyFactor, (motors, factor) => {
        const breaker = maximumBreakerAmps(motors, factor);
        // In whole hundred-thousandths, so that nothing is lost to floating point.
        const scaled = motors.map((each) => Math.round(each * 100));
        const largest = Math.max(...scaled);
        const limit = scaled.reduce(
          (sum, each) => sum + each * 100,
          (factor * 100 - 100) * largest,
        );
        const index = sizes.indexOf(breaker);
        expect(index).toBeGreaterThanOrEqual(0);
        if (breaker !== 15) expect(breaker * 10_000).toBeLessThanOrEqual(limit);
        const next = sizes[index + 1] ?? Infinity;
        expect(next * 10_000).toBeGreaterThan(limit);
      }),
    );
  });

  test('does not depend on the order of the motors, and grows with each of them', () => {
    fc.assert(
      fc.property(anyMotors, anyFactor, fc.integer({ min: 1, max: 40 }), (motors, factor, more) => {
        const breaker = maximumBreakerAmps(motors, factor);
        expect(maximumBreakerAmps([...motors].reverse(), factor)).toBe(breaker);
        expect(maximumBreakerAmps([...motors, more], factor)).toBeGreaterThanOrEqual(breaker);
        expect(minimumCircuitAmps([...motors, more])).toBeGreaterThan(minimumCircuitAmps(motors));
      }),
    );
  });
});

test('no motors need no circuit', () => {
  expect(minimumCircuitAmps([])).toBe(0);
});

describe('the breaker that is found', () => {
  it.each([
    [20, 'too_small'],
    [25, 'fits'],
    [40, 'fits'],
    [50, 'too_large'],
  ] as const)('%d A on a plate of 23.5 to 40 A: %s', (breakerAmps, fit) => {
    expect(breakerFit({ mcaAmps: 23.5, mocpAmps: 40, breakerAmps })).toBe(fit);
  });
});

// From memory of NEC 440.12, 440.52 and 430.32; a manufacturer's manual has the 115 %.
describe('disconnect and overload', () => {
  it('a disconnect for 17.9 and 1.1 A is rated 21.85 A at least', () => {
    expect(disconnectAmpsMin([17.9, 1.1])).toBeCloseTo(21.85, 9);
  });

  it.each([
    ['relay', 25.06],
    ['other', 22.375],
  ] as const)('a %s on a compressor of 17.9 A trips at %d A at most', (device, amps) => {
    expect(compressorOverloadAmpsMax(17.9, device)).toBeCloseTo(amps, 9);
  });

  it.each([
    ['service factor 1.15', { serviceFactor: 1.15 }, 12.5],
    ['rise of 40 C', { riseDegC: 40 }, 12.5],
    ['neither', {}, 11.5],
    ['service factor 1.15, would not start', { serviceFactor: 1.15, wouldNotStart: true }, 14],
    ['neither, would not start', { wouldNotStart: true }, 13],
  ])('a motor of 10 A, %s', (_what, motor, amps) => {
    expect(motorOverloadAmpsMax({ flaAmps: 10, ...motor })).toBeCloseTo(amps, 9);
  });
});
