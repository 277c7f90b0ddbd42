import type { Question } from '../script.ts';

/**
 * Who suffers first from the heat, in the groups that the National Weather Service names, with
 * pregnancy, home oxygen and medical devices as common practice, no source; and how hot they have it.
 */
export const peopleQuestions: readonly Question[] = [
  {
    code: 'vulnerable',
    isPersonal: true,
    asks: {
      kind: 'choices',
      choices: [
        { code: 'older_adult', words: { en: '65 or older', es: '65 años o más' } },
        { code: 'small_child', words: { en: 'Baby or small child', es: 'Bebé o niño pequeño' } },
        { code: 'pregnant', words: { en: 'Pregnant', es: 'Embarazada' } },
        { code: 'ill', words: { en: 'Ill', es: 'Enfermo' } },
        { code: 'medicines', words: { en: 'Takes daily medicines', es: 'Toma medicinas diario' } },
        {
          code: 'oxygen_or_device',
          words: { en: 'Oxygen or a medical device', es: 'Oxígeno o un aparato médico' },
        },
      ],
    },
    words: {
      en: 'Is anyone there 65 or older, a small child, pregnant or ill? Does anyone take daily medicines, or need oxygen or a medical device?',
      es: '¿Hay alguien de 65 años o más, un niño pequeño, una embarazada o un enfermo? ¿Alguien toma medicinas diario, o necesita oxígeno o un aparato médico?',
    },
  },
  {
    code: 'indoor_temperature',
    isPersonal: true,
    asks: { kind: 'number', unit: '[degF]', min: 20, max: 130 },
    words: {
      en: 'How many degrees is it inside? The thermostat shows it.',
      es: '¿Cuántos grados hay adentro? El termostato lo muestra.',
    },
  },
  {
    code: 'indoor_humidity',
    isPersonal: true,
    asks: { kind: 'number', unit: '%', min: 1, max: 100 },
    // Below 80 F humidity makes little difference to how hot it feels.
    when: { question: 'indoor_temperature', atLeast: 80 },
    words: {
      en: 'If the thermostat shows the humidity: how many percent?',
      es: 'Si el termostato muestra la humedad: ¿cuánto por ciento?',
    },
  },
  {
    code: 'cooler_place',
    isPersonal: true,
    asks: { kind: 'yes_no' },
    // 90 F is common practice, no source. What is not known is taken as the worse.
    when: {
      all: [
        { not: { known: 'heating_only' } },
        { not: { question: 'vulnerable', is: ['none'] } },
        {
          any: [
            { question: 'indoor_temperature', atLeast: 90 },
            { question: 'indoor_temperature', is: ['unknown'] },
          ],
        },
      ],
    },
    words: {
      en: 'Such heat is dangerous for them. Please bring them somewhere cooler now, and do not wait for us: a neighbor, a library, a cooling center. Can they go?',
      es: 'Tanto calor es peligroso para ellos. Por favor llévelos ya a un lugar más fresco, y no nos espere: con un vecino, a una biblioteca, a un centro de enfriamiento. ¿Pueden ir?',
    },
  },
];
