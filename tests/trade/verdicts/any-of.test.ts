import { describe, expect, it } from 'vitest';
import { anyOf } from '../../../src/trade/verdicts/any-of.ts';
import type { Condition } from '../../../src/trade/verdicts/weigh-together.ts';

const holds = condition('holds', { readingIds: ['r1'] });
const fails = condition('fails', { observationIds: ['o1'] });
const readAndSeen = condition('unknown', { readingIds: ['r2'], observationIds: ['o2'] });
const onlyRead = condition('unknown', { readingIds: ['r3'] });
const onlySeen = condition('unknown', { observationIds: ['o3'] });
const nobodyLooked = condition('unknown', {});

describe('one of several signs of the same thing', () => {
  it.each([
    ['that holds counts before one that fails', [fails, holds], holds],
    ['that fails counts before one that cannot be told', [readAndSeen, fails], fails],
    [
      'that was read and seen counts before one nobody looked for',
      [nobodyLooked, readAndSeen],
      readAndSeen,
    ],
    ['that was read counts before one nobody looked for', [nobodyLooked, onlyRead], onlyRead],
    ['that was seen counts before one nobody looked for', [nobodyLooked, onlySeen], onlySeen],
    ['that holds first is the one told', [holds, condition('holds', {})], holds],
  ])('%s', (_name, conditions, telling) => {
    expect(anyOf('Look for it.', conditions)).toBe(telling);
  });

  it('tells what to record while nobody looked for any', () => {
    expect(anyOf('Look for it.', [nobodyLooked, nobodyLooked])).toEqual({
      ...nobodyLooked,
      says: 'Look for it.',
    });
  });
});

function condition(state: Condition['state'], rest: Partial<Condition>): Condition {
  const says = `It ${state}.`;
  return { state, says, readingIds: [], observationIds: [], readingsDisagree: false, ...rest };
}
