import type { Condition, Question } from '../script.ts';
import { isIced, isWet } from './water-and-ice-questions.ts';

/** Neither water nor ice: it may run, and be looked at while it does. */
export const mayRun: Condition = { not: { any: [isWet, isIced] } };

const showsSomething: Condition = {
  question: 'thermostat_screen',
  is: ['on', 'on_with_batteries'],
};

/** What comes out of the vents, and whether the thermostat asks for it. */
export const thermostatQuestions: readonly Question[] = [
  {
    code: 'air',
    asks: {
      kind: 'choice',
      choices: [
        { code: 'none', words: { en: 'No air', es: 'No sale aire' } },
        { code: 'warm', words: { en: 'Air, but warm', es: 'Sale aire, pero caliente' } },
        { code: 'weak', words: { en: 'Cool, but weak', es: 'Frío, pero con poca fuerza' } },
        { code: 'good', words: { en: 'Cool and strong', es: 'Frío y con fuerza' } },
      ],
    },
    when: { all: [mayRun, { not: { known: 'heating_only' } }] },
    words: {
      en: 'Hold your hand to a vent. What comes out?',
      es: 'Ponga la mano frente a una rejilla. ¿Qué sale?',
    },
    observes: [
      { is: ['none'], code: 'indoor_fan_running', answer: 'no' },
      { is: ['warm', 'weak', 'good'], code: 'indoor_fan_running', answer: 'yes' },
      { is: ['warm'], code: 'blows_warm_in_cooling', answer: 'yes' },
      { is: ['weak', 'good'], code: 'blows_warm_in_cooling', answer: 'no' },
    ],
  },
  {
    code: 'thermostat_screen',
    asks: {
      kind: 'choice',
      choices: [
        { code: 'on', words: { en: 'It was on', es: 'Estaba encendida' } },
        {
          code: 'on_with_batteries',
          words: { en: 'It came on with new batteries', es: 'Encendió con baterías nuevas' },
        },
        { code: 'blank', words: { en: 'It stays blank', es: 'Sigue apagada' } },
      ],
    },
    when: { all: [mayRun, { not: { question: 'air', is: ['good'] } }] },
    words: {
      en: 'Is the screen of the thermostat on? If it is blank or shows a low battery: put in new batteries, if it takes any.',
      es: '¿Está encendida la pantalla del termostato? Si está apagada o avisa batería baja: ponga baterías nuevas, si usa.',
    },
    observes: [
      { is: ['on'], code: 'thermostat_screen_blank', answer: 'no' },
      { is: ['blank'], code: 'thermostat_screen_blank', answer: 'yes' },
    ],
  },
  {
    code: 'thermostat_settings',
    asks: { kind: 'yes_no' },
    when: { all: [showsSomething, { not: { known: 'heating_only' } }] },
    words: {
      en: 'Is it set to COOL, the fan to AUTO, and the number at least 5 degrees below the room?',
      es: '¿Está en COOL (enfriar), el ventilador en AUTO, y el número al menos 5 grados más bajo que el cuarto?',
    },
    observes: [
      { is: ['yes'], code: 'thermostat_set_wrong', answer: 'no' },
      { is: ['no'], code: 'thermostat_set_wrong', answer: 'yes' },
    ],
  },
  {
    code: 'set_to_cool',
    asks: { kind: 'yes_no' },
    when: {
      any: [
        { question: 'thermostat_settings', is: ['no', 'unknown'] },
        {
          all: [
            { question: 'thermostat_screen', is: ['on_with_batteries'] },
            { question: 'thermostat_settings', is: ['yes'] },
          ],
        },
      ],
    },
    words: {
      en: 'Set it to COOL, the fan to AUTO, and 5 degrees below the room. Wait five minutes. Does cool air come now?',
      es: 'Póngalo en COOL (enfriar), el ventilador en AUTO, y 5 grados más bajo que el cuarto. Espere cinco minutos. ¿Ya sale aire frío?',
    },
    help: {
      en: 'It waits up to five minutes before it starts, to spare the compressor.',
      es: 'Espera hasta cinco minutos antes de arrancar, para cuidar el compresor.',
    },
    stops: [{ is: ['yes'], ending: 'solved' }],
    observes: [
      { is: ['yes'], code: 'thermostat_starts_when_set', answer: 'yes' },
      { is: ['no'], code: 'thermostat_starts_when_set', answer: 'no' },
    ],
  },
  {
    code: 'set_to_heat',
    asks: { kind: 'yes_no' },
    when: { all: [showsSomething, { known: 'heating_only' }] },
    words: {
      en: 'Set it to HEAT, the fan to AUTO, and 5 degrees above the room. Wait five minutes. Does warm air come now?',
      es: 'Póngalo en HEAT (calentar), el ventilador en AUTO, y 5 grados más alto que el cuarto. Espere cinco minutos. ¿Ya sale aire caliente?',
    },
    stops: [{ is: ['yes'], ending: 'solved' }],
  },
];
