import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  dangerQuestionsOf,
  type FactCode,
  factCodeSchema,
  type GivenAnswer,
  nextStep,
  phoneScripts,
  type Question,
  walkScript,
} from '../../src/phone-script/index.ts';
import { canonicalJson } from '../../src/platform/canonical-json.ts';
import { sha256 } from '../../src/platform/sha256.ts';
import { observationWords } from '../../src/trade/index.ts';
import { combinationsOf, questionsOf, walkEveryPath } from './every-path.ts';
import { judgeScript, questionsMax } from './judge-script.ts';
import { judgeWords, plainLetters } from './judge-words.ts';

const script = phoneScripts['phone-1'];
const questions = questionsOf(script);

describe('no caller is ever asked', () => {
  it('to open, touch, push, bypass, refill, reset twice, change, chip, blow or relight anything', () => {
    expect(judgeWords(script)).toEqual([]);
  });

  it('for a reset before every danger was denied, twice, or after another one, on any path', () => {
    expect(judgeScript(script)).toEqual([]);
  });

  it('for what only a technician may check', () => {
    const codes = questions.flatMap(({ observes = [] }) => observes.map(({ code }) => code));
    expect(codes.length).toBeGreaterThan(20);
    expect(codes.filter((code) => observationWords[code].by !== 'anyone')).toEqual([]);
  });
});

it('every answer that tells of people, and no other, is marked as personal', () => {
  const personal = questions.filter(({ isPersonal }) => isPersonal).map(({ code }) => code);
  expect(personal).toEqual([
    'carbon_monoxide',
    'heat_distress',
    ...(script.sections.find(({ code }) => code === 'people')?.questions ?? []).map(
      ({ code }) => code,
    ),
  ]);
});

describe('every path', () => {
  /** Paths, answers told apart or not, the longest path, and how often each end is reached. */
  const walked = { paths: 0, longest: 0, ends: new Map<string, number>() };
  const dones = new Set<string>();
  for (const facts of combinationsOf(factCodeSchema.options)) {
    walkEveryPath(script, facts, {
      ends: (step, { asked }) => {
        walked.paths += 1;
        walked.longest = Math.max(walked.longest, asked.length);
        dones.add(`${step.kind} ${step.code}`);
      },
    });
  }

  it('ends, in a number of questions that a caller has the patience for', () => {
    expect(walked.paths).toBeGreaterThan(80_000);
    expect(walked.longest).toBeLessThanOrEqual(questionsMax);
  });

  it('leads to every danger and every ending, and to nothing else', () => {
    expect([...dones].sort()).toEqual(
      [
        ...Object.keys(script.dangers).map((code) => `danger ${code}`),
        ...Object.keys(script.endings).map((code) => `done ${code}`),
      ].sort(),
    );
  });
});

const denied: readonly [string, string][] = [
  ['gas_smell', 'no'],
  ['carbon_monoxide', 'no'],
  ['fire_or_electrical', 'no'],
  ['water_on_electrics', 'no'],
  ['heat_distress', 'no'],
];
const safe: readonly [string, string][] = [
  ...denied,
  ['vulnerable', 'none'],
  ['indoor_temperature', '78'],
  ['at_home', 'yes'],
];
const runs: readonly [string, string][] = [...safe, ['water_seen', 'none'], ['ice', 'no']];

const say = (told: readonly (readonly [string, string])[]): GivenAnswer[] =>
  told.map(([question, answer]) =>
    /^\d/.test(answer)
      ? { question, answer: 'number', numberValue: Number(answer) }
      : { question, answer },
  );

const stepAfter = (told: readonly (readonly [string, string])[], ...facts: FactCode[]) => {
  const step = nextStep(script, facts, say(told));
  return step.kind === 'ask' ? step.question.code : `${step.kind} ${step.code}`;
};

describe('danger comes before everything else', () => {
  it('in the order gas, carbon monoxide, fire, water on electrics, a person in distress', () => {
    const order = denied.map((_, index) => stepAfter(denied.slice(0, index)));
    expect(order).toEqual(denied.map(([code]) => code));
  });

  it.each([
    ['gas_smell', 'yes', 'gas'],
    ['carbon_monoxide', 'yes', 'carbon_monoxide'],
    ['fire_or_electrical', 'fire', 'fire'],
    ['fire_or_electrical', 'electrical', 'electrical'],
    ['fire_or_electrical', 'breaker_box', 'breaker_box'],
    ['water_on_electrics', 'breaker_box', 'breaker_box'],
    ['water_on_electrics', 'elsewhere', 'water_on_electrics'],
    ['heat_distress', 'yes', 'heat_distress'],
  ])('%s answered %s stops everything', (question, answer, danger) => {
    const before = denied.slice(
      0,
      denied.findIndex(([code]) => code === question),
    );
    expect(stepAfter([...before, [question, answer]])).toBe(`danger ${danger}`);
    // What was answered besides changes nothing.
    expect(stepAfter([...runs, [question, answer]])).toBe(`danger ${danger}`);
    // Nor does it wait for its turn.
    expect(stepAfter([[question, answer]])).toBe(`danger ${danger}`);
    const { path } = walkScript(script, [], say([[question, answer]]));
    expect(path.map((each) => each.question.code)).toEqual([question]);
  });

  it('what is told before its turn and is no danger waits for it', () => {
    expect(stepAfter([['heat_distress', 'no']])).toBe('gas_smell');
    expect(stepAfter([['fire_or_electrical', 'unknown']])).toBe('gas_smell');
    expect(stepAfter([['set_to_cool', 'yes']])).toBe('gas_smell');
    // Not asked of somebody who was sent nowhere near it.
    expect(stepAfter([['breaker_box_signs', 'yes']])).toBe('gas_smell');
    expect(stepAfter([['hissing', 'yes']])).toBe('gas_smell');
    expect(stepAfter([['hissing', 'yes']], 'refrigerant_may_burn')).toBe('danger refrigerant_leak');
  });

  it('what may be told at any time is every danger that is asked of first', () => {
    const codes = (...facts: FactCode[]) =>
      dangerQuestionsOf(script, facts).map(({ code }) => code);
    expect(codes()).toEqual(denied.map(([code]) => code));
    expect(codes('refrigerant_may_burn')).toEqual([...codes(), 'hissing']);
  });

  it('a leak that may burn is asked of where the refrigerant may, and stops too', () => {
    expect(stepAfter(denied)).toBe('vulnerable');
    expect(stepAfter(denied, 'refrigerant_may_burn')).toBe('hissing');
    expect(stepAfter([...denied, ['hissing', 'yes']], 'refrigerant_may_burn')).toBe(
      'danger refrigerant_leak',
    );
  });

  it.each(denied)('where nobody can tell of %s, nobody is asked to do anything', (question) => {
    const told = safe.map(([code, answer]): [string, string] => [
      code,
      code === question ? 'unknown' : answer,
    ]);
    expect(stepAfter(told)).toBe('done danger_unclear');
  });

  it('the breaker box is looked at before it is touched', () => {
    const dead: [string, string][] = [
      ...runs,
      ['air', 'none'],
      ['thermostat_screen', 'on'],
      ['thermostat_settings', 'yes'],
      ['indoor_switch', 'was_on'],
    ];
    expect(stepAfter(dead)).toBe('breaker_box_signs');
    expect(stepAfter([...dead, ['breaker_box_signs', 'yes']])).toBe('danger breaker_box');
    expect(stepAfter([...dead, ['breaker_box_signs', 'unknown']])).toBe('done look_needed');
    expect(stepAfter([...dead, ['breaker_box_signs', 'no']])).toBe('breaker');
  });

  // Each from the advice that the instruction follows: a state utility commission (gas), the
  // Consumer Product Safety Commission (carbon monoxide), the National Weather Service (heat); the
  // others are common practice, no source.
  it.each([
    ['gas', '911', [/out of the house/, /not switch any light/, /not use the phone inside/, /911/]],
    ['carbon_monoxide', '911', [/out into fresh air/, /911 from outside/, /stay out/]],
    ['fire', '911', [/out of the house/, /911 from outside/]],
    ['breaker_box', '911', [/nobody touches/, /out of the house/, /power company/, /stay out/]],
    ['electrical', '911_if_worse', [/only if it is safe/, /breaker off/, /911/]],
    [
      'water_on_electrics',
      '911_if_worse',
      [/only if you can reach the breaker box dry/, /breaker off/, /911/],
    ],
    ['heat_distress', '911', [/^call 911 now/, /cooler/, /stay with them/]],
    [
      'refrigerant_leak',
      '911_if_worse',
      [/^everybody out now/, /not switch anything/, /no flames/],
    ],
  ] as const)('the instruction of %s is the usual one', (code, callFirst, says) => {
    const danger = script.dangers[code];
    expect(danger?.callFirst).toBe(callFirst);
    for (const words of says) expect(plainLetters(danger?.instruction.en ?? '')).toMatch(words);
    expect(danger?.instruction.es).toMatch(/911/);
  });
});

describe('people come before machines', () => {
  const hot = (who: string, degrees: string, ...facts: FactCode[]) =>
    stepAfter(
      [...denied, ['vulnerable', who], ['indoor_temperature', degrees], ['indoor_humidity', '50']],
      ...facts,
    );

  // 90 F with somebody vulnerable: common practice, no source.
  it.each([
    ['older_adult', '90', 'cooler_place'],
    ['older_adult', '89.9', 'at_home'],
    ['pregnant,ill', '96', 'cooler_place'],
    ['unknown', '96', 'cooler_place'],
    ['none', '96', 'at_home'],
    ['small_child', 'unknown', 'cooler_place'],
    ['none', 'unknown', 'at_home'],
  ])('%s at %s F: %s is asked next', (who, degrees, next) => {
    expect(hot(who, degrees)).toBe(next);
  });

  it('whoever freezes is not sent somewhere cooler', () => {
    expect(hot('older_adult', 'unknown', 'heating_only')).toBe('at_home');
  });
});

describe('the checks of a homeowner', () => {
  const warm: [string, string][] = [
    ...runs,
    ['air', 'warm'],
    ['thermostat_screen', 'on'],
    ['thermostat_settings', 'yes'],
  ];
  const tripped: [string, string][] = [
    ...warm,
    ['outdoor_fan', 'still'],
    ['breaker_box_signs', 'no'],
    ['breaker', 'tripped'],
  ];

  it.each<[string, [string, string][], string]>([
    [
      'nobody is there',
      [...denied, ['vulnerable', 'none'], ['indoor_temperature', 'unknown'], ['at_home', 'no']],
      'done nobody_there',
    ],
    [
      'the thermostat was set wrong',
      [
        ...runs,
        ['air', 'warm'],
        ['thermostat_screen', 'on'],
        ['thermostat_settings', 'no'],
        ['set_to_cool', 'yes'],
      ],
      'done solved',
    ],
    [
      'new batteries help',
      [
        ...runs,
        ['air', 'none'],
        ['thermostat_screen', 'on_with_batteries'],
        ['thermostat_settings', 'yes'],
        ['set_to_cool', 'yes'],
      ],
      'done solved',
    ],
    [
      'the switch at the air handler was off',
      [...runs, ['air', 'none'], ['thermostat_screen', 'blank'], ['indoor_switch', 'helps']],
      'done solved',
    ],
    [
      'the filter was dirty',
      [
        ...runs,
        ['air', 'weak'],
        ['thermostat_screen', 'on'],
        ['thermostat_settings', 'yes'],
        ['filter', 'yes'],
        ['filter_new', 'yes'],
      ],
      'done solved',
    ],
    [
      'vents were closed',
      [
        ...runs,
        ['air', 'weak'],
        ['thermostat_screen', 'on'],
        ['thermostat_settings', 'yes'],
        ['filter', 'no'],
        ['vents', 'opened_helps'],
      ],
      'done solved',
    ],
    [
      'there is ice',
      [...safe, ['water_seen', 'none'], ['ice', 'yes'], ['thaw', 'yes'], ['filter', 'yes']],
      'done thaw_first',
    ],
    [
      'the drain is sucked free',
      [
        ...safe,
        ['water_seen', 'in_pan'],
        ['ice', 'no'],
        ['water_off', 'yes'],
        ['drain_suction', 'yes'],
        ['drain_cooling', 'yes'],
      ],
      'done solved',
    ],
    [
      'the drain is not reached',
      [
        ...safe,
        ['water_seen', 'spreading'],
        ['ice', 'no'],
        ['water_off', 'yes'],
        ['drain_suction', 'unknown'],
      ],
      'done water_stays_off',
    ],
    ['the outdoor fan hums', [...warm, ['outdoor_fan', 'hums']], 'done motor_hums'],
    [
      'all runs and it is warm',
      [...warm, ['outdoor_fan', 'turns'], ['outdoor_dirty', 'no']],
      'done look_needed',
    ],
    [
      'the breaker holds and it cools',
      [...tripped, ['breaker_reset', 'cools']],
      'done solved_by_breaker',
    ],
    ['the breaker trips again', [...tripped, ['breaker_reset', 'trips']], 'done breaker_stays_off'],
    [
      'the breaker holds and it does not cool',
      [...tripped, ['breaker_reset', 'holds']],
      'done look_needed',
    ],
    [
      'the caller would rather not',
      [...tripped, ['breaker_reset', 'unknown']],
      'done breaker_stays_off',
    ],
    [
      'somebody reset it already',
      [...tripped.slice(0, -1), ['breaker', 'tripped_again']],
      'done breaker_stays_off',
    ],
  ])('where %s', (_, told, end) => {
    expect(stepAfter(told)).toBe(end);
  });

  it('the breaker stays off where it was reset by phone lately, or trips by complaint', () => {
    expect(stepAfter(tripped)).toBe('breaker_reset');
    expect(stepAfter(tripped, 'reset_before')).toBe('done breaker_stays_off');
    expect(stepAfter(tripped, 'breaker_trips')).toBe('done breaker_stays_off');
  });

  it('whoever complains of heating alone is asked neither for cooling nor for the breaker', () => {
    const told: [string, string][] = [
      ...safe,
      ['thermostat_screen', 'on'],
      ['set_to_heat', 'no'],
      ['filter', 'no'],
    ];
    expect(stepAfter(told, 'heating_only')).toBe('done look_needed');
    expect(stepAfter([...told.slice(0, -2), ['set_to_heat', 'yes']], 'heating_only')).toBe(
      'done solved',
    );
  });
});

const answersTo = ({ asks, code: question }: Question): GivenAnswer[] => {
  const words = [
    ...(asks.kind === 'yes_no' ? ['no', 'yes'] : []),
    ...('choices' in asks ? asks.choices.map((each) => each.code) : []),
    'unknown',
  ];
  const numbers = asks.kind === 'number' ? [asks.min, 85, 99] : [];
  return [
    ...words.map((answer) => ({ question, answer })),
    ...numbers.map((numberValue) => ({ question, answer: 'number', numberValue })),
  ];
};

const pick = (question: Question, chance: number): GivenAnswer => {
  const answers = answersTo(question);
  // Mostly no danger: otherwise hardly a dialogue would come as far as the checks.
  const isDenied = stopsInDanger(question) && chance % 12 !== 0;
  return answers[isDenied ? 0 : chance % answers.length] ?? { question: '', answer: '' };
};

const stopsInDanger = ({ stops = [] }: Question) => stops.some((stop) => 'danger' in stop);

/** A dialogue as callers have it, as far as some chances reach. */
const dialogueOf = (facts: readonly FactCode[], chances: readonly number[]): GivenAnswer[] => {
  const told: GivenAnswer[] = [];
  for (const chance of chances) {
    const step = nextStep(script, facts, told);
    if (step.kind !== 'ask') break;
    told.push(pick(step.question, chance));
  }
  return told;
};

const anyFacts = fc.subarray([...factCodeSchema.options]);
const anyChances = fc.array(fc.nat(), { minLength: 1, maxLength: 30 });
const codesOf = (facts: readonly FactCode[], told: readonly GivenAnswer[]) =>
  walkScript(script, facts, told).path.map(({ question }) => question.code);

describe('an answer that is corrected', () => {
  const corrected = fc
    .tuple(anyFacts, anyChances, fc.nat(), fc.nat())
    .map(([facts, chances, which, other]) => {
      const told = dialogueOf(facts, chances);
      const first = told[which % told.length];
      const question = questions.find(({ code }) => code === first?.question);
      if (first === undefined || question === undefined) throw new Error('nothing was asked');
      const answers = answersTo(question);
      return { facts, told, first, second: answers[other % answers.length] ?? first };
    });

  it('changes nothing of what was asked before it', () => {
    fc.assert(
      fc.property(corrected, ({ facts, told, second }) => {
        const before = codesOf(facts, told);
        const kept = before.slice(0, before.indexOf(second.question) + 1);
        expect(codesOf(facts, [...told, second]).slice(0, kept.length)).toEqual(kept);
      }),
    );
  });

  it('and put back as it was leads back to where the dialogue stood', () => {
    fc.assert(
      fc.property(corrected, ({ facts, told, first, second }) => {
        const again = walkScript(script, facts, [...told, second, first]);
        expect(again).toEqual(walkScript(script, facts, told));
      }),
    );
  });

  it('leaves a dialogue that reads the same from the answers that count alone', () => {
    fc.assert(
      fc.property(corrected, ({ facts, told, second }) => {
        const dialogue = walkScript(script, facts, [...told, second]);
        const counted = dialogue.path.map(({ given }) => given);
        expect(walkScript(script, facts, counted)).toEqual(dialogue);
      }),
    );
  });
});

it('a script that dialogues began with reads the same for ever', () => {
  const digests = Object.fromEntries(
    Object.entries(phoneScripts).map(([version, each]) => [version, sha256(canonicalJson(each))]),
  );
  expect(digests).toEqual({
    'phone-1': '0a42b40c616e420969f8754d219b457610476392c159e5b6d96d0ace1cd02744',
  });
});
