import { describe, expect, it } from 'vitest';
import {
  mayBeSolved,
  observedIn,
  phoneScripts,
  readAnswer,
  type TypedAnswer,
  walkScript,
} from '../../src/phone-script/index.ts';
import { questionsOf } from './every-path.ts';

const script = phoneScripts['phone-1'];

function questionOf(code: string) {
  const question = questionsOf(script).find((each) => each.code === code);
  if (question === undefined) throw new Error(`no question ${code}`);
  return question;
}

describe('an answer fits its question', () => {
  it.each<[string, TypedAnswer, string, number?]>([
    ['gas_smell', { answer: 'no' }, 'no'],
    ['ice', { answer: 'unknown' }, 'unknown'],
    ['air', { answer: 'weak' }, 'weak'],
    ['air', { answer: 'unknown' }, 'unknown'],
    ['vulnerable', { answer: 'none' }, 'none'],
    ['vulnerable', { answers: ['ill'] }, 'ill'],
    ['vulnerable', { answers: ['ill', 'older_adult'] }, 'older_adult,ill'],
    ['indoor_temperature', { value: 95.5 }, 'number', 95.5],
    ['indoor_temperature', { value: 130 }, 'number', 130],
    ['indoor_humidity', { answer: 'unknown' }, 'unknown'],
  ])('%s: %j', (code, typed, answer, numberValue) => {
    expect(readAnswer(questionOf(code), typed)).toEqual({
      question: code,
      answer,
      ...(numberValue !== undefined && { numberValue }),
    });
  });

  it.each<[string, TypedAnswer, string]>([
    ['gas_smell', { answer: 'weak' }, 'answer'],
    ['gas_smell', { answer: 'none' }, 'answer'],
    ['gas_smell', { answers: ['yes'] }, 'answers'],
    ['gas_smell', { value: 1 }, 'value'],
    ['air', { answer: 'yes' }, 'answer'],
    ['air', { answer: 'warm,weak' }, 'answer'],
    ['vulnerable', { answer: 'ill' }, 'answer'],
    ['vulnerable', { answers: [] }, 'answers'],
    ['vulnerable', { answers: ['none'] }, 'answers'],
    ['vulnerable', { answers: ['ill', 'ill'] }, 'answers'],
    ['vulnerable', { answers: ['ill', 'tall'] }, 'answers'],
    ['indoor_temperature', { value: 130.1 }, 'value'],
    ['indoor_temperature', { value: Number.NaN }, 'value'],
    ['indoor_temperature', { answer: 'number' }, 'answer'],
  ])('and not otherwise: %s %j', (code, typed, field) => {
    expect(readAnswer(questionOf(code), typed)).toMatchObject({ field });
  });
});

const told = (...answers: [string, string][]) =>
  walkScript(
    script,
    [],
    [
      ...['gas_smell', 'carbon_monoxide', 'fire_or_electrical', 'water_on_electrics'].map(
        (question) => ({ question, answer: 'no' }),
      ),
      ...answers.map(([question, answer]) => ({ question, answer })),
    ],
  );
const there: [string, string][] = [
  ['heat_distress', 'no'],
  ['vulnerable', 'none'],
  ['indoor_temperature', 'unknown'],
  ['at_home', 'yes'],
  ['water_seen', 'in_pan'],
  ['ice', 'no'],
];

const dry: [string, string][] = [...there.slice(0, -2), ['water_seen', 'none']];

describe('what the answers tell of the equipment', () => {
  it('is told by those that count alone', () => {
    expect(observedIn(told(...there))).toEqual([
      { code: 'drain_pan_full', answer: 'yes' },
      { code: 'ice_on_coil_or_line', answer: 'no' },
    ]);
    expect(observedIn(told(...there, ['at_home', 'no']))).toEqual([]);
  });
});

describe('a dialogue may end as solved', () => {
  it.each<[boolean, string, [string, string][]]>([
    [false, 'while danger is still asked of', []],
    [true, 'in the middle, when it starts by itself', dry],
    [false, 'not in the middle while there is water', there],
    [false, 'never where nobody could tell of a danger', [...there, ['gas_smell', 'unknown']]],
    [false, 'never in danger', [...there, ['gas_smell', 'yes']]],
    [false, 'not where a technician has to look', [...there, ['water_off', 'no']]],
    [
      true,
      'where the script says so',
      [...there, ['water_off', 'yes'], ['drain_suction', 'yes'], ['drain_cooling', 'yes']],
    ],
  ])('%s: %s', (may, _, answers) => {
    expect(mayBeSolved(script, [], told(...answers))).toBe(may);
  });
});
