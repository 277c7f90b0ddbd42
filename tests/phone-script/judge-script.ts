import { factCodeSchema, type Question, type Script } from '../../src/phone-script/index.ts';

import { apart, combinationsOf, questionsOf, walkEveryPath } from './every-path.ts';
import { askedIn, type Finding, plainLetters } from './judge-words.ts';

/** More than this nobody answers in one call. */
export const questionsMax = 21;

/**
 * What is wrong with how a script is built: first what can be seen on the page, then, if it leads
 * anywhere at all, along every one of its paths.
 */
export function judgeScript(script: Script): Finding[] {
  const onPaper = [
    ...loose(script),
    ...dangersOf(script),
    ...switchesOf(script),
    ...resetsOf(script),
  ];
  const isWalkable = onPaper.every(({ finding }) => finding !== 'leads_nowhere');
  return isWalkable ? [...onPaper, ...alongPaths(script)] : onPaper;
}

const answersOf = ({ asks }: Question): string[] => [
  'unknown',
  ...(asks.kind === 'yes_no' ? ['yes', 'no'] : []),
  ...('choices' in asks ? asks.choices.map(({ code }) => code) : []),
  ...(asks.kind === 'choices' ? ['none'] : []),
  ...(asks.kind === 'number' ? ['number'] : []),
];

const isDanger = ({ stops = [] }: Question) => stops.some((stop) => 'danger' in stop);

function loose(script: Script): Finding[] {
  const found: Finding[] = [];
  const earlier = new Map<string, Question>();
  const check = (where: string, when: Question['when']) => {
    for (const atom of when === undefined ? [] : apart(when)) {
      if (!('question' in atom)) continue;
      const asked = earlier.get(atom.question);
      const answers = asked === undefined ? [] : answersOf(asked);
      const isThere =
        'is' in atom
          ? atom.is.every((each) => answers.includes(each))
          : asked?.asks.kind === 'number';
      if (!isThere) found.push({ finding: 'looks_ahead', where });
    }
  };
  for (const section of script.sections) {
    check(section.code, section.when);
    for (const question of section.questions) {
      const { code, when, stops = [], observes = [] } = question;
      check(code, when);
      if (earlier.has(code)) found.push({ finding: 'same_code', where: code });
      earlier.set(code, question);
      const said = [...stops, ...observes].flatMap(({ is }) => is);
      if (said.some((each) => !answersOf(question).includes(each))) {
        found.push({ finding: 'looks_ahead', where: code });
      }
      for (const stop of stops) {
        const isThere =
          'danger' in stop ? stop.danger in script.dangers : stop.ending in script.endings;
        if (!isThere) found.push({ finding: 'leads_nowhere', where: code });
      }
    }
  }
  for (const { when, ending } of script.ends) {
    check(ending, when);
    if (!(ending in script.endings)) found.push({ finding: 'leads_nowhere', where: ending });
  }
  if (script.ends.at(-1)?.when !== undefined || script.ends.length === 0) {
    found.push({ finding: 'leads_nowhere', where: 'the last end' });
  }
  return found;
}

const TELLS_OF_DANGER =
  /smell gas|carbon monoxide|\b(smoke|fire|sparks?|burning|buzzing|scorched|hissing)\b|water.*electric|\b(confused|fainting)\b/;

/** A danger stops, and is asked of first; later only once more, of one that was asked of first. */
function dangersOf(script: Script): Finding[] {
  const found: Finding[] = [];
  const first = new Set<string>();
  let isFirst = true;
  for (const question of questionsOf(script)) {
    const { code, words, stops = [] } = question;
    const dangers = stops.flatMap((stop) => ('danger' in stop ? [stop.danger] : []));
    if (dangers.length === 0) {
      isFirst = false;
      if (TELLS_OF_DANGER.test(plainLetters(words.en))) {
        found.push({ finding: 'danger_goes_on', where: code });
      }
    } else if (isFirst) {
      for (const danger of dangers) first.add(danger);
    } else if (dangers.some((danger) => !first.has(danger))) {
      found.push({ finding: 'danger_late', where: code });
    }
  }
  return found;
}

/** A box that is wet, hot or buzzing, and air that may burn: common practice, no source. */
const NOTHING_IS_SWITCHED = /breaker box|smell gas|hissing/;

const SWITCHES = {
  en: /\b(switch|turn|flip|set|put|push|unplug)\b.*\b(on|off|breaker|thermostat)\b/,
  es: /\b(apague|prenda|baje|suba|mueva|ponga|desconecte)\b/,
};
const SENDS_OUT = { en: /\b(everybody|all)\b.*\bout\b/, es: /\b(salgan|salga)\b/ };

/** Where a switch is what harms, everybody goes, and nothing is switched on the way. */
function switchesOf(script: Script): Finding[] {
  return questionsOf(script).flatMap(({ code: where, words, asks, stops = [] }) =>
    stops.flatMap((stop) => {
      const danger = 'danger' in stop ? script.dangers[stop.danger] : undefined;
      const said =
        'choices' in asks ? asks.choices.filter(({ code }) => stop.is.includes(code)) : [{ words }];
      if (danger === undefined) return [];
      if (!said.some((each) => NOTHING_IS_SWITCHED.test(plainLetters(each.words.en)))) return [];
      const isSafe = (['en', 'es'] as const).every((language) => {
        const asked = askedIn(danger.instruction[language]);
        return (
          !asked.some((clause) => SWITCHES[language].test(clause)) &&
          asked.some((clause) => SENDS_OUT[language].test(clause))
        );
      });
      return isSafe ? [] : [{ finding: 'switches_in_danger', where }];
    }),
  );
}

const RESETS = {
  en: /\breset\b|\b(push|turn|flip|switch|put)\b.*\bbreaker\b.*\bon\b/,
  es: /\brestablezca\b|\b(mueva|suba|prenda|ponga|empuje)\b.*\binterruptor\b.*\bon\b/,
};

/** Thermostat off, push fully off then on, once, wait five minutes, then cool; a trip stays off. */
const WHOLE_RESET = {
  en: [
    /turn the thermostat off\b.*\bfully off\b.*\bfully on\b.*\bfive minutes\b.*\bcool\b/s,
    /\bone time only\b/,
    /\bif it trips[^.]*\bleave it off\b/,
  ],
  es: [
    /apague el termostato\b.*\btodo a off\b.*\btodo a on\b.*\bcinco minutos\b.*\bcool\b/s,
    /\buna sola vez\b/,
    /\bsi se dispara[^.]*\bdejelo apagado\b/,
  ],
};

function resetsOf(script: Script): Finding[] {
  return questionsOf(script).flatMap((question) => {
    const { code: where, words, resetsBreaker, stops = [], observes = [], asks } = question;
    const found: Finding[] = [];
    const told = { en: plainLetters(words.en), es: plainLetters(words.es) };
    if (resetsBreaker === undefined) {
      if (RESETS.en.test(told.en) || RESETS.es.test(told.es)) {
        found.push({ finding: 'reset_unmarked', where });
      }
      return found;
    }
    const isWhole = (['en', 'es'] as const).every((language) =>
      WHOLE_RESET[language].every((each) => each.test(told[language])),
    );
    if (!isWhole) found.push({ finding: 'reset_incomplete', where });
    const trips = observes.filter(
      ({ code, answer }) => code === 'breaker_trips_again' && answer === 'yes',
    );
    const tripped = asks.kind === 'yes_no' ? ['no'] : trips.flatMap(({ is }) => is);
    const leavesOff = stops.flatMap((stop) =>
      'ending' in stop && script.endings[stop.ending]?.outcome === 'not_solved' ? stop.is : [],
    );
    if (tripped.length === 0 || !tripped.every((each) => leavesOff.includes(each))) {
      found.push({ finding: 'second_trip_goes_on', where });
    }
    return found;
  });
}

function alongPaths(script: Script): Finding[] {
  const found = new Map<string, Finding>();
  const tell = (finding: string, where: string) => {
    found.set(`${finding} ${where}`, { finding, where });
  };
  const asked = new Set<string>();
  for (const facts of combinationsOf(factCodeSchema.options)) {
    walkEveryPath(script, facts, {
      asks: (question, path) => {
        asked.add(question.code);
        const wasReset = path.asked.some((each) => each.resetsBreaker);
        if (wasReset && isDanger(question)) tell('reset_before_danger', question.code);
        if (question.resetsBreaker === undefined) return;
        const isSafe = path.asked.every(
          (each, index) => !isDanger(each) || path.given[index]?.answer === 'no',
        );
        if (!isSafe) tell('reset_before_danger', question.code);
        const wasBefore = facts.includes('reset_before') || facts.includes('breaker_trips');
        if (wasReset || wasBefore) tell('resets_again', question.code);
      },
      ends: (_, path) => {
        if (path.asked.length > questionsMax) tell('too_long', path.asked.at(-1)?.code ?? '');
      },
    });
  }
  for (const { code } of questionsOf(script)) if (!asked.has(code)) tell('never_asked', code);
  return [...found.values()];
}
