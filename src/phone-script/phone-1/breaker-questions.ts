import type { Condition, Question } from '../script.ts';

const isDead: Condition = {
  any: [
    { question: 'thermostat_screen', is: ['blank'] },
    { question: 'air', is: ['none'] },
    { question: 'outdoor_fan', is: ['still'] },
  ],
};

/** It tripped before, whoever reset it: it stays off. */
export const wasReset: Condition = {
  any: [{ known: 'reset_before' }, { known: 'breaker_trips' }],
};

/**
 * One reset: thermostat off, fully off then on, once, five minutes, then cool. That a tripped handle
 * stands near off and is pushed fully off first: a manufacturer's manual. That a second trip stays
 * off, that nothing is reset which smells, buzzes, is hot or wet, or may feed something else: common
 * practice, no source.
 */
export const breakerQuestions: readonly Question[] = [
  {
    code: 'breaker_box_signs',
    asks: { kind: 'yes_no' },
    when: { all: [isDead, { not: { known: 'heating_only' } }] },
    words: {
      en: 'Go to the breaker box, with dry hands. Do not touch it yet. Is it hot, wet, buzzing or scorched, or does it smell of burning?',
      es: 'Vaya a la caja de interruptores (breakers), con las manos secas. Todavía no la toque. ¿Está caliente, mojada, zumbando o chamuscada, o huele a quemado?',
    },
    stops: [{ is: ['yes'], danger: 'breaker_box' }],
  },
  {
    code: 'breaker',
    asks: {
      kind: 'choice',
      choices: [
        { code: 'in_line', words: { en: 'All in line, and on', es: 'Todos parejos, y en ON' } },
        {
          code: 'tripped',
          words: {
            en: 'One is off or in the middle, and nobody has reset it',
            es: 'Uno está en OFF o en medio, y nadie lo ha restablecido',
          },
        },
        {
          code: 'tripped_again',
          words: {
            en: 'Somebody has reset it already, and it is off',
            es: 'Alguien ya lo restableció, y está apagado',
          },
        },
      ],
    },
    when: { question: 'breaker_box_signs', is: ['no'] },
    words: {
      en: 'Look for the breakers marked for the air conditioner and the air handler or furnace. Is one off, or in the middle, out of line with the others?',
      es: 'Busque los interruptores marcados para el aire acondicionado y para la manejadora o calefacción. ¿Hay uno en OFF, o en medio, fuera de línea con los demás?',
    },
    help: {
      en: 'Not clearly marked, or it feeds something else too: unknown.',
      es: 'Sin marca clara, o si alimenta otra cosa también: no se sabe.',
    },
    stops: [{ is: ['tripped_again'], ending: 'breaker_stays_off' }],
    observes: [
      { is: ['in_line'], code: 'breaker_found_tripped', answer: 'no' },
      { is: ['tripped', 'tripped_again'], code: 'breaker_found_tripped', answer: 'yes' },
      { is: ['tripped_again'], code: 'breaker_trips_again', answer: 'yes' },
    ],
  },
  {
    code: 'breaker_reset',
    asks: {
      kind: 'choice',
      choices: [
        {
          code: 'cools',
          words: { en: 'It stays on, and cool air comes', es: 'Se queda, y sale aire frío' },
        },
        {
          code: 'holds',
          words: { en: 'It stays on, but no cool air', es: 'Se queda, pero no sale aire frío' },
        },
        { code: 'trips', words: { en: 'It trips', es: 'Se dispara' } },
      ],
    },
    when: { all: [{ question: 'breaker', is: ['tripped'] }, { not: wasReset }] },
    words: {
      en: 'Turn the thermostat OFF. Push that breaker fully OFF, then fully ON, one time only. Wait five minutes. Then set the thermostat to COOL. If it trips, leave it off. What happens?',
      es: 'Apague el termostato. Mueva ese interruptor todo a OFF y después todo a ON, una sola vez. Espere cinco minutos. Después ponga el termostato en COOL. Si se dispara, déjelo apagado. ¿Qué pasa?',
    },
    help: {
      en: 'Give it five more minutes on COOL. Whoever would rather not: unknown.',
      es: 'Dele cinco minutos más en COOL. Quien prefiera no hacerlo: no se sabe.',
    },
    resetsBreaker: true,
    stops: [
      { is: ['cools'], ending: 'solved_by_breaker' },
      { is: ['trips'], ending: 'breaker_stays_off' },
    ],
    observes: [
      { is: ['cools', 'holds'], code: 'breaker_trips_again', answer: 'no' },
      { is: ['trips'], code: 'breaker_trips_again', answer: 'yes' },
    ],
  },
];
