import { expect, test } from 'vitest';
import { type Condition, weighTogether } from '../../../src/trade/verdicts/weigh-together.ts';

const head = { id: 'all', statement: 'All of it.', direction: 'for', weight: 'decisive' } as const;

function condition(
  state: Condition['state'],
  id: string,
  more: Partial<Condition> = {},
): Condition {
  return {
    state,
    says: `${id} ${state}.`,
    readingIds: [id],
    observationIds: [],
    readingsDisagree: false,
    ...more,
  };
}
const nobodyLooked = (id: string) => condition('unknown', id, { readingIds: [] });

test.each([
  ['met when all holds', 'holds', 'holds', 'met'],
  ['not met when its sign fails', 'fails', 'holds', 'not_met'],
  ['not met when what it rests on fails', 'holds', 'fails', 'not_met'],
  ['undecided while what it rests on is unknown', 'holds', 'unknown', 'undecided'],
  ['undecided while its sign cannot be judged', 'unknown', 'holds', 'undecided'],
  ['not met as soon as anything fails, whatever is unknown', 'fails', 'unknown', 'not_met'],
] as const)('%s', (_name, sign, rest, outcome) => {
  const { criterion } = weighTogether(head, condition(sign, 'a'), [condition(rest, 'b')]);
  expect(criterion.outcome).toBe(outcome);
});

test('nothing is on record while nobody looked for the sign, whatever else is known', () => {
  const { criterion } = weighTogether(head, nobodyLooked('a'), [condition('fails', 'b')]);
  expect(criterion).toMatchObject({ outcome: 'not_recorded', readingIds: [] });
});

test('a criterion that is met names everything it rests on, once', () => {
  const seen = condition('holds', 'b', { observationIds: ['o1', 'o1'] });
  const { criterion } = weighTogether(head, condition('holds', 'a'), [seen, seen]);
  expect(criterion).toMatchObject({
    readingIds: ['a', 'b'],
    observationIds: ['o1'],
    detail: 'a holds. b holds.',
  });
});

test('an undecided one says what is missing, one not met what failed', () => {
  const said = (state: Condition['state']) =>
    weighTogether(head, condition('holds', 'a'), [condition(state, 'b'), nobodyLooked('c')])
      .criterion.detail;
  expect(said('holds')).toBe('c unknown.');
  expect(said('fails')).toBe('b fails.');
});

test('readings that disagree are named, unless something else settles it', () => {
  const torn = condition('unknown', 'b', { readingsDisagree: true });
  const weigh = (rest: Condition[]) => weighTogether(head, condition('holds', 'a'), rest);
  expect(weigh([torn]).readingsDisagree).toBe(true);
  expect(weigh([torn, condition('fails', 'c')]).readingsDisagree).toBe(false);
});
