import type { Question, Script } from '../script.ts';
import { airQuestions } from './air-questions.ts';
import { breakerQuestions, wasReset } from './breaker-questions.ts';
import { allDenied, dangerQuestions } from './danger-questions.ts';
import { dangers } from './dangers.ts';
import { endings } from './endings.ts';
import { peopleQuestions } from './people-questions.ts';
import { thermostatQuestions } from './thermostat-questions.ts';
import { isIced, isWet, waterAndIceQuestions } from './water-and-ice-questions.ts';

const thereQuestion: Question = {
  code: 'at_home',
  asks: { kind: 'yes_no' },
  words: {
    en: 'Are you there now? Can you get to the thermostat and the equipment safely, without a ladder?',
    es: '¿Está usted ahí ahora? ¿Puede llegar al termostato y al equipo con seguridad, sin escalera?',
  },
};

/**
 * Danger first, then the people, then what a homeowner may look at and try. Nobody is asked to do
 * anything before every danger was denied. The order is common practice, no source.
 */
export const phone1: Script = {
  sections: [
    { code: 'danger', questions: dangerQuestions },
    { code: 'people', questions: peopleQuestions },
    { code: 'place', when: allDenied, questions: [thereQuestion] },
    {
      code: 'checks',
      when: { question: thereQuestion.code, is: ['yes'] },
      questions: [
        ...waterAndIceQuestions,
        ...thermostatQuestions,
        ...airQuestions,
        ...breakerQuestions,
      ],
    },
  ],
  ends: [
    { when: { not: allDenied }, ending: 'danger_unclear' },
    { when: { question: thereQuestion.code, is: ['no', 'unknown'] }, ending: 'nobody_there' },
    { when: isIced, ending: 'thaw_first' },
    { when: isWet, ending: 'water_stays_off' },
    {
      when: {
        all: [
          { question: 'breaker', is: ['tripped'] },
          { any: [wasReset, { question: 'breaker_reset', is: ['unknown'] }] },
        ],
      },
      ending: 'breaker_stays_off',
    },
    { ending: 'look_needed' },
  ],
  solvedAtItsEndOnly: { any: [isWet, isIced] },
  dangers,
  endings,
};
