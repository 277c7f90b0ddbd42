import type { Condition, Question } from '../script.ts';

/**
 * Danger comes before everything else. Somebody in the house who is not sure says yes; `unknown` is
 * left to a caller who cannot know, and then nobody is asked to do anything there.
 */
export const dangerQuestions: readonly Question[] = [
  {
    code: 'gas_smell',
    asks: { kind: 'yes_no' },
    words: {
      en: 'Do you smell gas, or rotten eggs, even a little?',
      es: '¿Huele a gas o a huevo podrido, aunque sea poco?',
    },
    help: {
      en: 'In the house and not sure: yes. Unknown is only for a caller who is not there.',
      es: 'En la casa y sin estar seguro: sí. «No se sabe» es solo para quien no está ahí.',
    },
    stops: [{ is: ['yes'], danger: 'gas' }],
  },
  {
    code: 'carbon_monoxide',
    isPersonal: true,
    asks: { kind: 'yes_no' },
    words: {
      en: 'Is a carbon monoxide alarm sounding? Or does anyone there have a sudden headache, dizziness or nausea?',
      es: '¿Suena una alarma de monóxido de carbono? ¿O alguien ahí tiene de repente dolor de cabeza, mareo o náuseas?',
    },
    stops: [{ is: ['yes'], danger: 'carbon_monoxide' }],
  },
  {
    code: 'fire_or_electrical',
    asks: {
      kind: 'choice',
      choices: [
        { code: 'no', words: { en: 'None of it', es: 'Nada de eso' } },
        { code: 'fire', words: { en: 'Smoke or fire', es: 'Humo o fuego' } },
        {
          code: 'breaker_box',
          words: {
            en: 'The breaker box buzzes, is hot, sparks or smells; or they are not sure',
            es: 'La caja de interruptores zumba, está caliente, echa chispas o huele; o no están seguros',
          },
        },
        {
          code: 'electrical',
          words: {
            en: 'A burning smell or sparks, surely from somewhere else',
            es: 'Olor a quemado o chispas, seguro de otro lugar',
          },
        },
      ],
    },
    words: {
      en: 'Is there smoke, fire or sparks? A burning smell? A breaker box that is buzzing or hot?',
      es: '¿Hay humo, fuego o chispas? ¿Olor a quemado? ¿Una caja de interruptores (breakers) que zumba o está caliente?',
    },
    stops: [
      { is: ['fire'], danger: 'fire' },
      { is: ['breaker_box'], danger: 'breaker_box' },
      { is: ['electrical'], danger: 'electrical' },
    ],
  },
  {
    code: 'water_on_electrics',
    asks: {
      kind: 'choice',
      choices: [
        { code: 'no', words: { en: 'None of it', es: 'Nada de eso' } },
        {
          code: 'breaker_box',
          words: {
            en: 'The breaker box is wet, or they are not sure',
            es: 'La caja de interruptores está mojada, o no están seguros',
          },
        },
        {
          code: 'elsewhere',
          words: {
            en: 'Only an outlet, a light or a cord',
            es: 'Solo un enchufe, una lámpara o un cable',
          },
        },
      ],
    },
    words: {
      en: 'Is water getting onto anything electric: a breaker box, an outlet, a light or a cord?',
      es: '¿Le cae agua a algo eléctrico: una caja de interruptores, un enchufe, una lámpara o un cable?',
    },
    stops: [
      { is: ['breaker_box'], danger: 'breaker_box' },
      { is: ['elsewhere'], danger: 'water_on_electrics' },
    ],
  },
  {
    code: 'heat_distress',
    isPersonal: true,
    asks: { kind: 'yes_no' },
    words: {
      en: 'Is anyone confused, fainting, or very hot to the touch?',
      es: '¿Hay alguien confundido, desmayándose o con la piel muy caliente?',
    },
    stops: [{ is: ['yes'], danger: 'heat_distress' }],
  },
  {
    code: 'hissing',
    asks: { kind: 'yes_no' },
    when: { known: 'refrigerant_may_burn' },
    words: {
      en: 'Do you hear a hissing that does not stop, or see fresh oil by the equipment?',
      es: '¿Oye un silbido que no para, o ve aceite fresco junto al equipo?',
    },
    stops: [{ is: ['yes'], danger: 'refrigerant_leak' }],
  },
];

/** Every danger was asked of and denied: only then is anybody asked to do something. */
export const allDenied: Condition = {
  all: [
    ...dangerQuestions
      .filter(({ when }) => when === undefined)
      .map(({ code }) => ({ question: code, is: ['no'] })),
    {
      any: [{ not: { known: 'refrigerant_may_burn' } }, { question: 'hissing', is: ['no'] }],
    },
  ],
};
