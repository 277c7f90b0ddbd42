import type { Condition, Question, Script, Section, Words } from '../../src/phone-script/index.ts';

const words = (en: string, es: string): Words => ({ en, es });

const neverBefore: Condition = {
  not: { any: [{ known: 'reset_before' }, { known: 'breaker_trips' }] },
};

const gas: Question = {
  code: 'gas',
  asks: { kind: 'yes_no' },
  words: words('Do you smell gas?', '¿Huele a gas?'),
  stops: [{ is: ['yes'], danger: 'gas' }],
};

const thermostat: Question = {
  code: 'thermostat',
  asks: { kind: 'yes_no' },
  words: words('Is the thermostat on?', '¿Está prendido el termostato?'),
};

const reset: Question = {
  code: 'reset',
  asks: { kind: 'yes_no' },
  when: {
    all: [{ question: 'gas', is: ['no'] }, neverBefore],
  },
  words: words(
    'Turn the thermostat OFF. Push the breaker fully OFF, then fully ON, one time only. Wait five minutes. Then set the thermostat to COOL. If it trips, leave it off. Does it stay on?',
    'Apague el termostato. Mueva el interruptor (breaker) todo a OFF y después todo a ON, una sola vez. Espere cinco minutos. Después ponga el termostato en COOL. Si se dispara, déjelo apagado. ¿Se queda puesto?',
  ),
  resetsBreaker: true,
  stops: [{ is: ['no'], ending: 'visit' }],
};

const section = (...questions: Question[]): Section => ({ code: 'all', questions });

/** A small script with nothing wrong in it. */
export const soundScript: Script = {
  sections: [section(gas, thermostat, reset)],
  ends: [{ when: { question: 'reset', is: ['yes'] }, ending: 'solved' }, { ending: 'visit' }],
  dangers: {
    gas: {
      callFirst: '911',
      instruction: words(
        'Everybody out now. Do not switch anything on or off. Call 911 from outside.',
        'Salgan todos ya. No prenda ni apague nada. Llame al 911 desde afuera.',
      ),
    },
  },
  endings: {
    solved: {
      outcome: 'solved',
      words: words('Good. We call you tomorrow.', 'Bien. Le llamamos mañana.'),
    },
    visit: {
      outcome: 'not_solved',
      words: words('A technician has to look.', 'Un técnico tiene que revisar.'),
    },
  },
};

function asking(question: Partial<Question>): Script {
  return { ...soundScript, sections: [section(gas, { ...thermostat, ...question }, reset)] };
}

const says = (en: string, es = '¿Está prendido?') => asking({ words: words(en, es) });
const saysInSpanish = (es: string) => asking({ words: words('Is it on?', es) });

/** A sentence that no homeowner may be asked, and what the judge is to call it. */
export const forbiddenSentences: readonly [finding: string, en: string, es: string][] = [
  ['opens', 'Open the panel of the outdoor unit.', 'Abra el panel de la unidad de afuera.'],
  ['opens', 'Take the cover off the furnace.', 'Quite la tapa del calentador.'],
  ['opens', 'Unscrew it and look inside.', 'Destornille y mire adentro.'],
  ['opens', 'Remove the breaker box cover.', 'Saque la cubierta de la caja de interruptores.'],
  ['opens', 'Do not worry, just open the unit.', 'No se preocupe, abra la unidad.'],
  ['touches_parts', 'Touch the capacitor.', 'Toque el capacitor.'],
  ['touches_parts', 'Press the contactor in with a stick.', 'Empuje el contactor con un palo.'],
  ['touches_parts', 'Pull the disconnect out.', 'Saque el desconectador.'],
  ['touches_parts', 'Wiggle the wires.', 'Mueva los cables.'],
  ['pushes_fan', 'Push the fan with a stick.', 'Empuje el ventilador con un palo.'],
  ['pushes_fan', 'Give the blades a spin.', 'Dele vuelta a las aspas.'],
  ['bypasses_safety', 'Lift the float switch.', 'Levante el flotador.'],
  ['bypasses_safety', 'Tape the safety switch down.', 'Puentee el interruptor de seguridad.'],
  ['bypasses_safety', 'Join R and Y.', 'Una los cables R y Y.'],
  ['handles_refrigerant', 'Buy a can of refrigerant.', 'Compre una lata de refrigerante.'],
  ['handles_refrigerant', 'Add some freon.', 'Agregue freón.'],
  ['handles_refrigerant', 'Put a gauge on the valve.', 'Ponga un manómetro en la válvula.'],
  ['resets_again', 'If it trips, reset it again.', 'Si se dispara, súbalo otra vez.'],
  ['resets_again', 'Turn the breaker on twice.', 'Prenda el interruptor dos veces.'],
  ['resets_again', 'Try the breaker one more time.', 'Pruebe el interruptor una vez más.'],
  ['changes_fuses', 'Put in a new fuse.', 'Ponga un fusible nuevo.'],
  ['fights_ice', 'Chip the ice off.', 'Raspe el hielo.'],
  ['fights_ice', 'Pour hot water over it.', 'Échele agua caliente.'],
  ['fights_ice', 'Melt it with a hair dryer.', 'Derrítalo con una secadora de pelo.'],
  ['blows_drain', 'Blow into the drain.', 'Sople por el drenaje.'],
  ['blows_drain', 'Hold it tight, then blow into it.', 'Sosténgala, luego sople.'],
  ['blows_drain', 'Use compressed air on the pipe.', 'Use aire comprimido en el tubo.'],
  ['blows_drain', 'Flush the drain with a hose.', 'Meta la manguera en el drenaje.'],
  ['relights_pilot', 'Relight the pilot.', 'Encienda el piloto.'],
  ['relights_pilot', 'Light the burner with a match.', 'Prenda el quemador con un cerillo.'],
  ['resets_limit', 'Push the red button on the unit.', 'Oprima el botón rojo de la unidad.'],
];

/** What warns of the same things is no mistake. */
export const warnings: readonly [en: string, es: string][] = [
  ['Do not open any panel.', 'No abra ningún panel.'],
  ['Never chip the ice.', 'Nunca raspe el hielo.'],
  ['No hot water on it.', 'Sin agua caliente.'],
  ['Do not push the fan with a stick.', 'No empuje el ventilador con un palo.'],
  ['Never reset it again.', 'No lo suba otra vez.'],
  ['Open all vents.', 'Abra todas las rejillas.'],
];

const resetAgain: Question = {
  ...reset,
  code: 'reset_once_more',
  when: { question: 'gas', is: ['no'] },
};
const { resetsBreaker: _, ...unmarked } = reset;
const { stops: __, ...unstopped } = gas;

/** Stops in a danger, and says what to do then. */
function stopping(where: Partial<Question>, en: string, es: string): Script {
  const danger = { callFirst: '911', instruction: words(en, es) } as const;
  return {
    ...soundScript,
    sections: [section(gas, { ...gas, code: 'signs', ...where }, thermostat, reset)],
    dangers: { ...soundScript.dangers, box: danger },
  };
}
const boxSigns: Partial<Question> = {
  words: words('Is the breaker box hot or wet?', '¿Está caliente o mojada la caja?'),
  stops: [{ is: ['yes'], danger: 'box' }],
};

/** Scripts that are wrong in how they are built, and what the judge is to call it. */
export const misbuiltScripts: readonly [finding: string, why: string, script: Script][] = [
  [
    'resets_again',
    'asks for a reset twice',
    { ...soundScript, sections: [section(gas, reset, resetAgain)] },
  ],
  [
    'reset_before_danger',
    'asks for the reset before the danger',
    {
      ...soundScript,
      sections: [section({ ...reset, when: neverBefore }, gas)],
    },
  ],
  [
    'reset_before_danger',
    'asks for the reset where nobody could tell of the danger',
    {
      ...soundScript,
      sections: [section(gas, { ...reset, when: neverBefore })],
    },
  ],
  [
    'resets_again',
    'asks for the reset though the records tell of one',
    {
      ...soundScript,
      sections: [section(gas, { ...reset, when: { question: 'gas', is: ['no'] } })],
    },
  ],
  [
    'reset_unmarked',
    'does not say that a question is a reset',
    { ...soundScript, sections: [section(gas, thermostat, unmarked)] },
  ],
  ...(
    [
      ['Turn the thermostat OFF. ', 'Apague el termostato. '],
      [', one time only', ', una sola vez'],
      [' Wait five minutes.', ' Espere cinco minutos.'],
      [' If it trips, leave it off.', ' Si se dispara, déjelo apagado.'],
    ] as const
  ).map(([en, es]): [string, string, Script] => [
    'reset_incomplete',
    `leaves out of the reset: ${en.trim()}`,
    {
      ...soundScript,
      sections: [
        section(gas, {
          ...reset,
          words: words(reset.words.en.replace(en, ''), reset.words.es.replace(es, '')),
        }),
      ],
    },
  ]),
  [
    'second_trip_goes_on',
    'goes on after the breaker tripped again',
    { ...soundScript, sections: [section(gas, { ...reset, stops: [] }, thermostat)] },
  ],
  [
    'danger_goes_on',
    'goes on though there is gas',
    { ...soundScript, sections: [section(unstopped, thermostat)] },
  ],
  [
    'switches_in_danger',
    'sends somebody to a breaker box that is hot or wet',
    stopping(
      boxSigns,
      'Do not touch it. Only if you are dry: switch the breaker off. Call 911.',
      'No la toque. Aléjense. Llame al 911.',
    ),
  ],
  [
    'switches_in_danger',
    'says in Spanish alone to switch at such a box',
    stopping(
      boxSigns,
      'Everybody out. Call 911.',
      'Salgan todos. Baje el interruptor. Llame al 911.',
    ),
  ],
  [
    'switches_in_danger',
    'has a choice of such a box, among others, lead to a breaker',
    stopping(
      {
        asks: {
          kind: 'choice',
          choices: [{ code: 'hot', words: words('A hot breaker box', 'Una caja caliente') }],
        },
        words: words('Is anything hot?', '¿Hay algo caliente?'),
        stops: [{ is: ['hot'], danger: 'box' }],
      },
      'Everybody out, and switch the breaker off. Call 911.',
      'Salgan todos. Llame al 911.',
    ),
  ],
  [
    'switches_in_danger',
    'has the thermostat switched where what hisses may burn',
    stopping(
      { ...boxSigns, words: words('Is there a hissing?', '¿Oye un silbido?') },
      'Set the thermostat to OFF. Everybody out. Call 911.',
      'Salgan todos. Llame al 911.',
    ),
  ],
  [
    'switches_in_danger',
    'leaves people beside a breaker box that is hot or wet',
    stopping(boxSigns, 'Do not touch it. Call 911.', 'No la toque. Llame al 911.'),
  ],
  [
    'danger_late',
    'asks of danger after something else',
    { ...soundScript, sections: [section(thermostat, gas)] },
  ],
  ['not_in_spanish', 'says it in English only', says('Is it on?', 'Is it on?')],
  ['not_in_spanish', 'says nothing in Spanish', says('Is it on?', ' ')],
  [
    'looks_ahead',
    'asks by an answer that comes later',
    asking({ when: { question: 'reset', is: ['yes'] } }),
  ],
  [
    'looks_ahead',
    'asks by an answer that does not exist',
    asking({ when: { question: 'gas', is: ['perhaps'] } }),
  ],
  [
    'leads_nowhere',
    'stops with an ending that is not there',
    asking({ stops: [{ is: ['no'], ending: 'nowhere' }] }),
  ],
  [
    'leads_nowhere',
    'has no end that always holds',
    { ...soundScript, ends: [{ when: { question: 'reset', is: ['yes'] }, ending: 'solved' }] },
  ],
  ['same_code', 'uses a code twice', { ...soundScript, sections: [section(gas, gas)] }],
  [
    'never_asked',
    'has a question that nobody is ever asked',
    asking({ when: { question: 'gas', is: ['yes'] } }),
  ],
  [
    'too_long',
    'asks more than anybody stays on the phone for',
    {
      ...soundScript,
      sections: [
        section(
          gas,
          ...Array.from({ length: 22 }, (_, index) => ({ ...thermostat, code: `look_${index}` })),
        ),
      ],
    },
  ],
];

/** Each forbidden sentence in a script of its own, once in English and once in Spanish. */
export const forbiddenScripts: readonly [finding: string, sentence: string, script: Script][] =
  forbiddenSentences.flatMap(([finding, en, es]): [string, string, Script][] => [
    [finding, en, says(en)],
    [finding, es, saysInSpanish(es)],
  ]);

/** Where else than in the question itself a forbidden sentence may hide. */
export const hiddenScripts: readonly [where: string, script: Script][] = (() => {
  const bad = words('Open the panel.', '¿Está bien?');
  const { solved, visit } = soundScript.endings;
  const { gas: danger } = soundScript.dangers;
  if (solved === undefined || visit === undefined || danger === undefined) throw new Error('odd');
  return [
    ['the help', asking({ help: bad })],
    ['a choice', asking({ asks: { kind: 'choice', choices: [{ code: 'done', words: bad }] } })],
    ['an ending', { ...soundScript, endings: { visit, solved: { ...solved, words: bad } } }],
    ['a danger', { ...soundScript, dangers: { gas: { ...danger, instruction: bad } } }],
  ];
})();
