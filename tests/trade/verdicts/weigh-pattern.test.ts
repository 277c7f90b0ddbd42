import { describe, expect, test } from 'vitest';
import { type Pattern, weighPattern } from '../../../src/trade/verdicts/weigh-pattern.ts';
import type { Condition } from '../../../src/trade/verdicts/weigh-together.ts';

const head = { id: 'x', statement: 'X.', direction: 'for', weight: 'indicative' } as const;

function sign(id: string, state: Condition['state'], read = true): Condition {
  return {
    state,
    says: `${id} ${state}.`,
    readingIds: read ? [id] : [],
    observationIds: [],
    readingsDisagree: false,
  };
}
const holds = (id: string) => sign(id, 'holds');
const fails = (id: string) => sign(id, 'fails');
const open = (id: string) => sign(id, 'unknown');
const unread = (id: string) => sign(id, 'unknown', false);

function outcome(pattern: Partial<Pattern>) {
  const whole = { keys: [], others: [], agreeingMin: 3, provided: [], ...pattern };
  return weighPattern(head, whole).criterion.outcome;
}

describe('a pattern speaks only when enough signs agree and none denies it', () => {
  test.each<[string, Partial<Pattern>, string]>([
    ['nothing read', { keys: [unread('a')], others: [unread('b')] }, 'not_recorded'],
    ['three agree', { keys: [holds('a')], others: [holds('b'), holds('c')] }, 'met'],
    [
      'three agree, a fourth is open',
      { keys: [holds('a')], others: [holds('b'), holds('c'), open('d')] },
      'met',
    ],
    ['two agree', { keys: [holds('a')], others: [holds('b'), open('c')] }, 'undecided'],
    [
      'three agree, a fourth denies',
      { keys: [holds('a')], others: [holds('b'), holds('c'), fails('d')] },
      'not_met',
    ],
    [
      'the key is open',
      { keys: [open('a')], others: [holds('b'), holds('c'), holds('d')] },
      'undecided',
    ],
    [
      'the key denies',
      { keys: [fails('a')], others: [holds('b'), holds('c'), holds('d')] },
      'not_met',
    ],
    [
      'what it rests on is unknown',
      { keys: [holds('a')], others: [holds('b'), holds('c')], provided: [unread('p')] },
      'undecided',
    ],
    [
      'what it rests on fails, so a sign against it says nothing either',
      { keys: [fails('a')], provided: [fails('p')] },
      'undecided',
    ],
    [
      'it cannot rest on anything that would turn it',
      { keys: [fails('a')], provided: [unread('p')] },
      'not_met',
    ],
  ])('%s', (_name, pattern, expected) => {
    expect(outcome(pattern)).toBe(expected);
  });

  test('it names the signs that agree and what it rests on, in words and by reading', () => {
    const { criterion } = weighPattern(head, {
      keys: [holds('a')],
      others: [holds('b'), open('c')],
      agreeingMin: 2,
      provided: [holds('p')],
    });
    expect(criterion.detail).toBe('a holds. b holds.');
    expect(criterion.readingIds).toEqual(['a', 'b', 'p']);
  });

  test('too few signs: it says how many are missing and what is open', () => {
    const { criterion } = weighPattern(head, {
      keys: [holds('a')],
      others: [open('b')],
      agreeingMin: 2,
      provided: [],
    });
    expect(criterion.detail).toBe('Only 1 of the 2 signs it takes show. b unknown.');
  });
});

describe('a pattern shows the figure it was decided by', () => {
  const figure = (value: number) =>
    ({
      label: 'Subcooling',
      value,
      unit: '[degF]',
      uncertainty: 1,
      low: 5,
      high: 15,
    }) as const;
  const weighed = (pattern: Pattern) => weighPattern(head, pattern).criterion.measurement;
  const pattern = { others: [], agreeingMin: 2, provided: [] };

  test('that of its first key when it is met', () => {
    const keys = [holds('a'), { ...holds('b'), measurement: figure(2) }];
    const others = [{ ...holds('c'), measurement: figure(3) }];
    expect(weighed({ ...pattern, keys, others })).toEqual(figure(2));
  });

  test('that of the sign that denies it when it is not', () => {
    const keys = [
      { ...holds('a'), measurement: figure(1) },
      { ...fails('b'), measurement: figure(2) },
    ];
    expect(weighed({ ...pattern, keys })).toEqual(figure(2));
  });

  test('none where no sign is a figure', () => {
    expect(weighed({ ...pattern, keys: [holds('a'), holds('b')] })).toBeUndefined();
  });
});
