import type { Script, ScriptLanguage, Words } from '../../src/phone-script/index.ts';

export interface Finding {
  finding: string;
  where: string;
}

/**
 * What nobody on the phone may be asked to do, written from the trade's rules for phone triage, not
 * from the script: a homeowner opens nothing, touches no part inside, pushes no fan, bypasses no
 * safety, handles no refrigerant, resets once, changes no fuse, lets ice melt by itself, puts no
 * pressure into a drain, relights nothing and pushes no limit back in. Common practice, no source.
 * Letters are compared in lower case and without accents.
 */
const forbidden: readonly { finding: string; en: RegExp; es: RegExp }[] = [
  {
    finding: 'opens',
    en: /\bunscrew|\b(open|take|remove|lift off|pry|undo|pull off)\b.*\b(panel|cover|door|lid|cabinet|unit|furnace|air handler|breaker box|thermostat|inside)\b/,
    es: /\bdes(a)?tornill|\b(abra|abrir|quite|quitar|saque|sacar|destape|remueva)\b.*\b(panel|tapa|cubierta|puerta|gabinete|unidad|caja|calentador|manejadora|termostato|equipo|adentro)\b/,
  },
  {
    finding: 'touches_parts',
    en: /\b(capacitor|contactor|disconnect|relay|terminal|circuit board)s?\b|\b(touch|move|wiggle|pull|tap|plug|unplug|cut|tighten)\b.*\b(wires?|cables?)\b/,
    es: /\b(capacitor|contactor|desconectador|relevador|terminal|tarjeta)(es|s)?\b|\b(toque|mueva|jale|conecte|desconecte|corte|apriete)\b.*\b(cables?|alambres?)\b/,
  },
  {
    finding: 'pushes_fan',
    en: /\b(push|spin|nudge|poke|kick|start|give|hit)\b.*\b(fan|blades?)\b|\bfan by hand\b/,
    es: /\b(empuje|gire|mueva|golpee|ayude|dele)\b.*\b(ventilador|aspas?|helices?)\b/,
  },
  {
    finding: 'bypasses_safety',
    en: /\bbypass|\bjumper|\bjoin\b|\b(lift|hold|tie|tape|pin|wedge|block)\b.*\b(float|safety|door switch)\b/,
    es: /\bpuente(e|ar)?\b|\buna (los|el|la|r)\b|\b(levante|amarre|sostenga|trabe|detenga)\b.*\b(flotador|seguridad)\b/,
  },
  {
    finding: 'handles_refrigerant',
    en: /\b(freon|gauges?|manifold)\b|\b(buy|add|charge|recharge|top|fill|put|pour|attach)\b.*\b(refrigerant|coolant)\b/,
    es: /\b(freon|manometros?)\b|\b(compre|agregue|cargue|recargue|ponga|eche|llene|conecte)\b.*\brefrigerante\b/,
  },
  {
    finding: 'resets_again',
    en: /\b(reset|turn|push|flip|switch|try|put)\b.*\b(again|twice|two times|once more|one more time|a second time|a few times|until it)\b|\bkeep (trying|resetting)\b/,
    es: /\b(subalo|suba|restablezca|restablezcalo|prenda|prendalo|pruebe|mueva|ponga|pongalo|intente|empuje)\b.*\b(otra vez|de nuevo|dos veces|una vez mas|nuevamente|varias veces|hasta que)\b|\bvuelva a\b|\bsiga intentando\b/,
  },
  { finding: 'changes_fuses', en: /\bfuses?\b/, es: /\bfusibles?\b/ },
  {
    finding: 'fights_ice',
    en: /\b(chip|scrape|break|knock|pry|chisel|hack)\b.*\b(ice|frost|it off)\b|\bhot water\b|\bhair ?dryer\b|\bheat gun\b|\bsalt\b/,
    es: /\b(raspe|rompa|pique|quiebre|golpee)\b.*\b(hielo|escarcha)\b|\bagua caliente\b|\bsecadora\b|\bpistola de calor\b|\bsal\b/,
  },
  {
    finding: 'blows_drain',
    en: /\bblow (it|in|into|out|through)\b|\b(blow|force|flush|push|pump)\b.*\b(drain|pipe|line)\b|\bcompress(ed|or)\b.*\bair\b|\bair compressor\b|\bpressure\b|\bplunger\b|\bhose\b/,
    es: /\bsopl(e|ela|elo|ar)\b|\baire comprimido\b|\bcompresor de aire\b|\bpresion\b|\bdestapacanos\b|\bmanguera\b/,
  },
  {
    finding: 'relights_pilot',
    en: /\bpilot\b|\b(light|relight|ignite)\b.*\b(burner|furnace|flame|water heater)\b/,
    es: /\bpiloto\b|\b(encienda|prenda)\b.*\b(quemador|llama|boiler)\b/,
  },
  {
    finding: 'resets_limit',
    en: /\b(red|reset) button\b/,
    es: /\bboton (rojo|de reset|de restablecer)\b/,
  },
];

/** What a script says that nobody may be asked, and what it does not say in both languages. */
export function judgeWords(script: Script): Finding[] {
  return wordsOf(script).flatMap(({ where, words }) => [
    ...(['en', 'es'] as const).flatMap((language) =>
      forbiddenIn(words[language], language).map((finding) => ({ finding, where })),
    ),
    ...(isSaidInBoth(words) ? [] : [{ finding: 'not_in_spanish', where }]),
  ]);
}

/** Which forbidden things a text asks for; a warning of one is none. */
export function forbiddenIn(text: string, language: ScriptLanguage): string[] {
  const asked = askedIn(text);
  return forbidden
    .filter((each) => asked.some((clause) => each[language].test(clause)))
    .map(({ finding }) => finding);
}

/** The clauses of a text that ask for something, in plain letters; its warnings are left out. */
export function askedIn(text: string): string[] {
  return clausesOf(text).filter((clause) => !WARNS.test(clause));
}

export function plainLetters(text: string): string {
  return text.normalize('NFD').replace(/\p{M}/gu, '').toLowerCase();
}

// What follows a "but" or a "then" is not forbidden by the "do not" before it.
function clausesOf(text: string): string[] {
  return plainLetters(text)
    .split(
      /[.;:?!¿¡,()\n]|\b(?:and|but|then|so|just|instead|y|pero|luego|despues|entonces|asi que|sino)\b/,
    )
    .map((clause) => clause.trim());
}

const WARNS = /^(please |por favor )?(do not|don’t|never|no|nobody|without|nunca|sin|ni|nadie)\b/;

function isSaidInBoth({ en, es }: Words): boolean {
  return en.trim() !== '' && es.trim() !== '' && en.trim() !== es.trim();
}

/** Everything a script has anybody read aloud, and where. */
export function wordsOf(script: Script): { where: string; words: Words }[] {
  return [
    ...script.sections.flatMap(({ questions }) =>
      questions.flatMap(({ code, words, help, asks }) => [
        { where: code, words },
        ...(help === undefined ? [] : [{ where: `${code}, help`, words: help }]),
        ...('choices' in asks
          ? asks.choices.map((each) => ({ where: `${code}, ${each.code}`, words: each.words }))
          : []),
      ]),
    ),
    ...Object.entries(script.dangers).map(([where, danger]) => ({
      where,
      words: danger.instruction,
    })),
    ...Object.entries(script.endings).map(([where, ending]) => ({ where, words: ending.words })),
  ];
}
