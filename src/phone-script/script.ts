import { z } from 'zod';
import type { ObservationCode } from '../trade/index.ts';

/** The languages the questions are read in. */
export const scriptLanguageSchema = z.enum(['en', 'es']);
export type ScriptLanguage = z.infer<typeof scriptLanguageSchema>;

/** What the dispatcher reads aloud, in each language. */
export type Words = Record<ScriptLanguage, string>;

/**
 * What the records say before anybody is asked. They are fixed when the dialogue starts; `reset_before`
 * alone may be learned later, of another dialogue of the site.
 * `heating_only`: the caller complains of heating and of nothing else. `breaker_trips`: the complaint
 * itself is a breaker that trips. `reset_before`: somebody at this site was asked by phone to reset a breaker lately,
 * or told that it had tripped again.
 * `refrigerant_may_burn`: a nameplate names a refrigerant that burns, or none is named.
 */
export const factCodeSchema = z.enum([
  'heating_only',
  'breaker_trips',
  'reset_before',
  'refrigerant_may_burn',
]);
export type FactCode = z.infer<typeof factCodeSchema>;

/**
 * When something holds, as data. An answer that was not given is none of the answers, and no number.
 * Of several choices, one is enough.
 */
export type Condition =
  | { known: FactCode }
  | { question: string; is: readonly string[] }
  | { question: string; atLeast: number }
  | { all: readonly Condition[] }
  | { any: readonly Condition[] }
  | { not: Condition };

/** A named answer, as the dispatcher sees it and may read it out. */
export interface Choice {
  code: string;
  words: Words;
}

/** `unknown` answers every question: whoever calls may not know, or may not be there. */
export type Asks =
  | { kind: 'yes_no' }
  | { kind: 'choice'; choices: readonly Choice[] }
  /** Several may hold, or `none`. */
  | { kind: 'choices'; choices: readonly Choice[] }
  | { kind: 'number'; unit: '[degF]' | '%'; min: number; max: number };

/** Where an answer ends the dialogue at once: in danger, or with what remains to be said. */
export type Stop = { is: readonly string[] } & ({ danger: string } | { ending: string });

/** What an answer tells of the equipment, in the words of the trade. */
export interface Observed {
  is: readonly string[];
  code: ObservationCode;
  answer: 'yes' | 'no';
}

export interface Question {
  code: string;
  asks: Asks;
  words: Words;
  /** For the dispatcher's eyes, or for a caller who asks back. */
  help?: Words;
  /** Asked only then; always when absent. It looks at earlier answers only. */
  when?: Condition;
  stops?: readonly Stop[];
  observes?: readonly Observed[];
  /** The answer tells of a person, not of the equipment. */
  isPersonal?: true;
  /** It has somebody put back a breaker, which is asked once in a dialogue at most. */
  resetsBreaker?: true;
}

/** Questions that belong together and share a condition. */
export interface Section {
  code: string;
  when?: Condition;
  questions: readonly Question[];
}

/** Something that stops the dialogue: what to do is read aloud, and nothing is asked after it. */
export interface Danger {
  instruction: Words;
  /** `911`: before anything else. `911_if_worse`: where it burns or smokes, or somebody feels ill. */
  callFirst: '911' | '911_if_worse';
}

/** What is said last. Solved is what nobody has to drive out for. */
export interface Ending {
  outcome: 'solved' | 'not_solved';
  words: Words;
}

/**
 * A dialogue as data: the questions in the order they are asked, each once at most, so that it
 * always ends. When none is left, the first of `ends` that holds is how it ends; the last one always
 * holds.
 */
export interface Script {
  sections: readonly Section[];
  ends: readonly { when?: Condition; ending: string }[];
  /** Where it holds, nothing is solved in the middle of a dialogue: only a question may say so. */
  solvedAtItsEndOnly?: Condition;
  dangers: Readonly<Record<string, Danger>>;
  endings: Readonly<Record<string, Ending>>;
}
