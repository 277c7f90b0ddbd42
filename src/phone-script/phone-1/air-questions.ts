import type { Question } from '../script.ts';

/** The filter, the vents, the switch at the indoor unit, and a look at the outdoor unit. */
export const airQuestions: readonly Question[] = [
  {
    code: 'filter',
    asks: { kind: 'yes_no' },
    when: {
      any: [
        { question: 'ice', is: ['yes'] },
        { question: 'air', is: ['weak'] },
        { question: 'set_to_heat', is: ['no'] },
      ],
    },
    words: {
      en: 'Look at the air filter. Is it gray with dust?',
      es: 'Mire el filtro de aire. ¿Está gris de polvo?',
    },
    help: {
      en: 'Only where it slides out by itself. Otherwise: unknown.',
      es: 'Solo donde sale deslizando. Si no: no se sabe.',
    },
    observes: [
      { is: ['yes'], code: 'filter_dirty', answer: 'yes' },
      { is: ['no'], code: 'filter_dirty', answer: 'no' },
    ],
  },
  {
    code: 'filter_new',
    asks: { kind: 'yes_no' },
    when: {
      all: [
        { question: 'filter', is: ['yes'] },
        { question: 'air', is: ['weak'] },
      ],
    },
    words: {
      en: 'Set the thermostat to OFF, put in a new filter of the same size, and set it to COOL. Wait five minutes. Is the air cool and strong now?',
      es: 'Apague el termostato, ponga un filtro nuevo del mismo tamaño, y póngalo en COOL. Espere cinco minutos. ¿Ya sale frío y con fuerza?',
    },
    help: {
      en: 'No new filter at hand: unknown.',
      es: 'Sin filtro nuevo a la mano: no se sabe.',
    },
    stops: [{ is: ['yes'], ending: 'solved' }],
  },
  {
    code: 'vents',
    asks: {
      kind: 'choice',
      choices: [
        { code: 'all_open', words: { en: 'All were open', es: 'Todas estaban abiertas' } },
        {
          code: 'opened_helps',
          words: {
            en: 'Some were closed; opened, it is better',
            es: 'Había cerradas; ya abiertas, está mejor',
          },
        },
        {
          code: 'opened_no_help',
          words: {
            en: 'Some were closed; opened, it is the same',
            es: 'Había cerradas; ya abiertas, sigue igual',
          },
        },
      ],
    },
    when: { question: 'air', is: ['weak'] },
    words: {
      en: 'Are all vents open and free, also the large one where the air goes back? If not, open them, and wait five minutes.',
      es: '¿Están todas las rejillas abiertas y libres, también la grande por donde regresa el aire? Si no, ábralas, y espere cinco minutos.',
    },
    stops: [{ is: ['opened_helps'], ending: 'solved' }],
    observes: [
      { is: ['all_open'], code: 'registers_closed', answer: 'no' },
      { is: ['opened_helps', 'opened_no_help'], code: 'registers_closed', answer: 'yes' },
    ],
  },
  {
    code: 'indoor_switch',
    asks: {
      kind: 'choice',
      choices: [
        { code: 'was_on', words: { en: 'It was on', es: 'Estaba encendido' } },
        {
          code: 'helps',
          words: { en: 'It was off; on, it runs', es: 'Estaba apagado; ya prendido, funciona' },
        },
        {
          code: 'no_help',
          words: { en: 'It was off; on, still nothing', es: 'Estaba apagado; ya prendido, nada' },
        },
      ],
    },
    // Where air comes out, the switch is on.
    when: {
      all: [
        { not: { question: 'air', is: ['warm', 'weak'] } },
        {
          any: [
            { question: 'air', is: ['none'] },
            { question: 'thermostat_screen', is: ['blank'] },
          ],
        },
      ],
    },
    words: {
      en: 'By the indoor unit there is a switch like a light switch. Is it on? If it is off, turn it on, and wait five minutes.',
      es: 'Junto a la unidad interior hay un interruptor como el de la luz. ¿Está encendido? Si está apagado, préndalo, y espere cinco minutos.',
    },
    help: {
      en: 'Only where it can be reached without a ladder. Otherwise: unknown.',
      es: 'Solo donde se alcance sin escalera. Si no: no se sabe.',
    },
    stops: [{ is: ['helps'], ending: 'solved' }],
  },
  {
    code: 'outdoor_fan',
    asks: {
      kind: 'choice',
      choices: [
        { code: 'turns', words: { en: 'It turns', es: 'Gira' } },
        { code: 'hums', words: { en: 'It stands and hums', es: 'Está parado y zumba' } },
        { code: 'still', words: { en: 'It stands, silent', es: 'Está parado, sin ruido' } },
      ],
    },
    when: { question: 'air', is: ['warm'] },
    words: {
      en: 'Look at the outdoor unit and listen, from two steps away. Do not touch it. What does its fan do?',
      es: 'Mire la unidad de afuera y escuche, desde dos pasos. No la toque. ¿Qué hace su ventilador?',
    },
    stops: [{ is: ['hums'], ending: 'motor_hums' }],
    observes: [
      { is: ['turns'], code: 'outdoor_fan_running', answer: 'yes' },
      { is: ['hums', 'still'], code: 'outdoor_fan_running', answer: 'no' },
      { is: ['hums'], code: 'outdoor_fan_hums', answer: 'yes' },
      { is: ['still'], code: 'outdoor_fan_hums', answer: 'no' },
    ],
  },
  {
    code: 'outdoor_dirty',
    asks: { kind: 'yes_no' },
    when: { question: 'outdoor_fan', is: ['turns'] },
    words: {
      en: 'From where you stand: are its sides packed with leaves, grass or dirt?',
      es: 'Desde donde está: ¿tiene los lados tapados de hojas, pasto o tierra?',
    },
    observes: [
      { is: ['yes'], code: 'outdoor_coil_dirty', answer: 'yes' },
      { is: ['no'], code: 'outdoor_coil_dirty', answer: 'no' },
    ],
  },
];
