import { describe, expect, it } from 'vitest';
import type { Settled } from '../../../src/trade/facts/measured.ts';
import { whenMeasured } from '../../../src/trade/verdicts/when-measured.ts';

const what = 'voltage of the coil';

describe('a condition on one settled value', () => {
  it.each([
    [12, 'above', 'holds'],
    [10.5, 'above', 'unknown'],
    [9.5, 'above', 'unknown'],
    [8, 'above', 'fails'],
    [12, 'below', 'fails'],
    [10.5, 'below', 'unknown'],
    [9.5, 'below', 'unknown'],
    [8, 'below', 'holds'],
  ] as const)('%s V, good to 1 V, %s a limit of 10 V: %s', (value, side, state) => {
    const condition = whenMeasured(settledAt(value), what, side, 10);
    expect(condition).toMatchObject({ state, readingIds: ['r1'], readingsDisagree: false });
    expect(condition.says.includes(', too near to tell')).toBe(state === 'unknown');
  });

  it('is unknown without a limit, and says what to record', () => {
    const condition = whenMeasured(settledAt(12), what, 'above', undefined);
    expect(condition).toMatchObject({ state: 'unknown', readingIds: ['r1'] });
    expect(condition.says).toContain('record the nameplate to judge it.');
  });

  it.each<[string, Settled, object]>([
    ['nothing was read', { kind: 'none' }, { says: `Measure the ${what}.`, readingIds: [] }],
    [
      'what was read gives no figure',
      { kind: 'unusable', why: 'It reads open.', readingIds: ['r1'] },
      { says: 'It reads open.', readingIds: ['r1'], readingsDisagree: false },
    ],
    [
      'two readings disagree',
      { kind: 'disagree', why: 'Measure again.', readingIds: ['r1', 'r2'] },
      { says: 'Measure again.', readingIds: ['r1', 'r2'], readingsDisagree: true },
    ],
  ])('is unknown where %s', (_name, settled, rest) => {
    const condition = whenMeasured(settled, what, 'above', 10);
    expect(condition).toMatchObject({ state: 'unknown', ...rest });
  });
});

function settledAt(value: number): Settled {
  const measured = { value, uncertainty: 1, unit: 'V' as const, how: 'by multimeter' };
  return { kind: 'settled', measured: { ...measured, readingIds: ['r1'] }, doubts: [] };
}
