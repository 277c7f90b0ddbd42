import type { Ending } from '../script.ts';

/** What is said last. Where a technician has to look, what stays off meanwhile is said too. */
export const endings = {
  solved: {
    outcome: 'solved',
    words: {
      en: 'Good, it runs. Nobody has to come, and there is no charge. We will call you within a day to hear whether it still does.',
      es: 'Qué bien, ya funciona. Nadie tiene que ir, y no se cobra nada. Le llamamos en un día para saber si sigue bien.',
    },
  },
  solved_by_breaker: {
    outcome: 'solved',
    words: {
      en: 'Good, it runs. If the breaker trips once more, leave it off and call us. There is no charge. We will call you within a day to hear whether it still runs.',
      es: 'Qué bien, ya funciona. Si el interruptor se dispara de nuevo, déjelo apagado y llámenos. No se cobra nada. Le llamamos en un día para saber si sigue bien.',
    },
  },
  danger_unclear: {
    outcome: 'not_solved',
    words: {
      en: 'A technician has to look. Until then nobody should change anything there. Whoever smells gas or burning, or hears an alarm: go out, and call 911 from outside.',
      es: 'Un técnico tiene que revisar. Mientras tanto nadie debe mover nada ahí. Quien huela gas o a quemado, u oiga una alarma: salga, y llame al 911 desde afuera.',
    },
  },
  nobody_there: {
    outcome: 'not_solved',
    words: {
      en: 'Then a technician has to look. Leave everything as it is.',
      es: 'Entonces un técnico tiene que revisar. Deje todo como está.',
    },
  },
  thaw_first: {
    outcome: 'not_solved',
    words: {
      en: 'A technician has to look. Until then leave the cooling off and the fan on: only without ice can it be measured. If the filter is gray and you have a new one, put it in.',
      es: 'Un técnico tiene que revisar. Hasta entonces deje el aire en OFF y el ventilador en ON: solo sin hielo se puede medir. Si el filtro está gris y tiene uno nuevo, póngalo.',
    },
  },
  water_stays_off: {
    outcome: 'not_solved',
    words: {
      en: 'A technician has to look. Leave the thermostat off until then, and keep away from anything electric that gets wet.',
      es: 'Un técnico tiene que revisar. Deje el termostato apagado hasta entonces, y aléjese de todo lo eléctrico que se moje.',
    },
  },
  breaker_stays_off: {
    outcome: 'not_solved',
    words: {
      en: 'Leave that breaker off, and the thermostat too. A technician has to look.',
      es: 'Deje apagado ese interruptor, y también el termostato. Un técnico tiene que revisar.',
    },
  },
  motor_hums: {
    outcome: 'not_solved',
    words: {
      en: 'Set the thermostat to OFF, and leave it off. A technician has to look.',
      es: 'Apague el termostato, y déjelo apagado. Un técnico tiene que revisar.',
    },
  },
  look_needed: {
    outcome: 'not_solved',
    words: {
      en: 'Thank you. A technician has to look.',
      es: 'Gracias. Un técnico tiene que revisar.',
    },
  },
} as const satisfies Readonly<Record<string, Ending>>;
