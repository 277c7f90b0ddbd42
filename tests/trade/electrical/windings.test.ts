import fc from 'fast-check';
import { describe, expect, it, test } from 'vitest';
import { judgeWindings } from '../../../src/trade/electrical/windings.ts';

/** Good to 0.9 % and two tenths, as a service meter is. */
function measured(ohms: number) {
  return { ohms, uncertaintyOhms: 0.009 * ohms + 0.2 };
}

function judge(commonRun: number, commonStart: number, runStart: number) {
  return judgeWindings({
    commonRun: measured(commonRun),
    commonStart: measured(commonStart),
    runStart: measured(runStart),
  });
}

// First principles: two windings in series; that start has more ohms is common practice.
describe('three readings on a compressor fit two windings or do not', () => {
  it.each([
    ['a sound compressor', 0.8, 2.1, 2.9, 'consistent'],
    ['a sum a little off, within the meter', 0.8, 2.1, 3.2, 'consistent'],
    ['shorted turns or a bad contact', 0.8, 2.1, 1.9, 'sum_off'],
    ['start and run taken for each other', 2.1, 0.8, 2.9, 'order_off'],
    ['windings too alike for the meter', 1.0, 1.2, 2.2, 'undecided'],
  ] as const)('%s: %d, %d, %d ohm', (_what, commonRun, commonStart, runStart, verdict) => {
    expect(judge(commonRun, commonStart, runStart)).toBe(verdict);
  });

  test('what adds up is never called off, whatever the meter', () => {
    const anyOhms = fc.double({ min: 0.1, max: 50, noNaN: true });
    fc.assert(
      fc.property(anyOhms, anyOhms, (commonRun, commonStart) => {
        expect(judge(commonRun, commonStart, commonRun + commonStart)).not.toBe('sum_off');
      }),
    );
  });
});
