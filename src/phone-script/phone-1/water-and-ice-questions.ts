import type { Condition, Question } from '../script.ts';

const cooling: Condition = { not: { known: 'heating_only' } };

/** Water where it should not be: what cools is off, whatever else is wrong. */
export const isWet: Condition = { question: 'water_seen', is: ['in_pan', 'spreading'] };
export const isIced: Condition = { question: 'ice', is: ['yes'] };

/** Water and ice come first: with either of them nothing may go on running. */
export const waterAndIceQuestions: readonly Question[] = [
  {
    code: 'water_seen',
    asks: {
      kind: 'choice',
      choices: [
        { code: 'none', words: { en: 'No water', es: 'No hay agua' } },
        {
          code: 'in_pan',
          words: { en: 'Water in the pan, nowhere else', es: 'Agua en la charola, solo ahí' },
        },
        {
          code: 'spreading',
          words: { en: 'Water drips or spreads', es: 'El agua gotea o se extiende' },
        },
      ],
    },
    when: cooling,
    words: {
      en: 'Is there water where it should not be: from a ceiling, by the indoor unit, or in the pan under it?',
      es: '¿Hay agua donde no debe: del techo, junto a la unidad interior, o en la charola de abajo?',
    },
    help: {
      en: 'As far as it can be seen from the floor. Nobody climbs into an attic for it.',
      es: 'Lo que se vea desde el piso. Nadie sube al ático para eso.',
    },
    observes: [{ is: ['in_pan'], code: 'drain_pan_full', answer: 'yes' }],
  },
  {
    code: 'ice',
    asks: { kind: 'yes_no' },
    when: cooling,
    words: {
      en: 'Do you see ice or frost on the pipes or on the indoor unit?',
      es: '¿Ve hielo o escarcha en los tubos o en la unidad interior?',
    },
    observes: [
      { is: ['yes'], code: 'ice_on_coil_or_line', answer: 'yes' },
      { is: ['no'], code: 'ice_on_coil_or_line', answer: 'no' },
    ],
  },
  {
    code: 'thaw',
    asks: { kind: 'yes_no' },
    when: isIced,
    words: {
      en: 'Set the cooling to OFF and the fan to ON. It thaws in two to four hours, sometimes in a day. Put towels down. Do not chip at it. No hot water. Is the cooling off and the fan on?',
      es: 'Ponga el aire en OFF y el ventilador en ON. Se descongela en dos a cuatro horas, a veces en un día. Ponga toallas. No lo raspe. Sin agua caliente. ¿Está el aire en OFF y el ventilador en ON?',
    },
  },
  {
    code: 'water_off',
    asks: { kind: 'yes_no' },
    when: { all: [isWet, { not: isIced }] },
    words: {
      en: 'Set the thermostat to OFF, and mop up what you can reach. Is it off now?',
      es: 'Apague el termostato, y seque lo que alcance. ¿Ya está apagado?',
    },
  },
  {
    code: 'drain_suction',
    asks: { kind: 'yes_no' },
    when: { question: 'water_off', is: ['yes'] },
    words: {
      en: 'Do you have a wet vacuum, and can you reach the end of the drain pipe outside? Hold the vacuum tight against that end for three minutes, so that it sucks. Never blow into it. Did water come out?',
      es: '¿Tiene una aspiradora para líquidos, y alcanza la punta del tubo de drenaje afuera? Sostenga la aspiradora contra esa punta tres minutos, para que succione. Nunca sople. ¿Salió agua?',
    },
    help: {
      en: 'No vacuum, or the end is not to be found: unknown.',
      es: 'Sin aspiradora, o si no encuentra la punta: no se sabe.',
    },
  },
  {
    code: 'drain_cooling',
    asks: { kind: 'yes_no' },
    when: { question: 'drain_suction', is: ['yes'] },
    words: {
      en: 'Set the thermostat to COOL and wait five minutes. Does cool air come, with no new water?',
      es: 'Ponga el termostato en COOL y espere cinco minutos. ¿Sale aire frío, sin agua nueva?',
    },
    stops: [{ is: ['yes'], ending: 'solved' }],
  },
];
