import { type FaultCode, faultCodeSchema, faults } from '../faults/catalog.ts';
import type { Expectations, Scene } from '../faults/fault.ts';
import {
  type ObservationCode,
  observationCodeSchema,
  observationWords,
} from '../words/observations.ts';
import { type SignCode, signCodeSchema, signWords } from '../words/signs.ts';

/** What a suspect can make likely or unlikely: an observation, or a sign in classes. */
export type Clue = (
  | { kind: 'observation'; code: ObservationCode }
  | { kind: 'sign'; code: SignCode }
) & {
  on: 'outdoor' | 'indoor' | 'any';
  /** What it can show, in a fixed order. */
  outcomes: readonly string[];
  /** How often each outcome is met on a call that has nothing to do with it. */
  usual: readonly number[];
  /** How often each is met under a way a fault can look, by its number; as usual where absent. */
  under: readonly (readonly number[] | undefined)[];
};

/** One of the ways a fault can look. The numbers count all ways of the catalog. */
export type Way = { number: number; fault: FaultCode; scene: Scene };

const plainly: readonly Scene[] = [{ share: 1, expects: {} }];

const ways: readonly Way[] = faultCodeSchema.options
  .flatMap((fault) => (faults[fault].scenes ?? plainly).map((scene) => ({ fault, scene })))
  .map((way, number) => ({ ...way, number }));

/** The ways a fault can look, of which most have one only. */
export function waysOf(fault: FaultCode): Way[] {
  return ways.filter((way) => way.fault === fault);
}

/** How often each outcome is met in this way of a fault; they add up to one. */
export function sharesUnder(way: number, clue: Clue): readonly number[] {
  return clue.under[way] ?? clue.usual;
}

/** Nothing is ever quite certain: a share below this would let one slip of a pen rule out a fault. */
const shareMin = 0.002;

/** Every clue there is, observations first. */
export const clues: readonly Clue[] = [
  ...observationCodeSchema.options.map(observationClue),
  ...signCodeSchema.options.map(signClue),
];

function observationClue(code: ObservationCode): Clue {
  const { on, usually } = observationWords[code];
  const yesAndNo = (yes: number) => shares([yes, 1 - yes]);
  return {
    code,
    kind: 'observation',
    on,
    outcomes: ['yes', 'no'],
    usual: yesAndNo(usually),
    under: underEachWay((expects) => {
      const yes = expects[code];
      return yes === undefined ? undefined : yesAndNo(yes);
    }),
  };
}

function signClue(code: SignCode): Clue {
  const { on, usually } = signWords[code];
  const outcomes = Object.keys(usually);
  const usual = outcomes.map((each) => usually[each] ?? 0);
  return {
    code,
    kind: 'sign',
    on,
    outcomes,
    usual: shares(usual),
    under: underEachWay((expects) => {
      const said: Readonly<Record<string, number>> | undefined = expects[code];
      return said === undefined ? undefined : filledUp(outcomes, usual, said);
    }),
  };
}

function underEachWay(
  sharesOf: (expects: Expectations) => readonly number[] | undefined,
): (readonly number[] | undefined)[] {
  // What the fault itself says holds in each of its scenes.
  return ways.map(({ fault, scene }) => sharesOf({ ...scene.expects, ...faults[fault].expects }));
}

/** What the named outcomes leave falls to the others as usual. */
function filledUp(
  outcomes: readonly string[],
  usual: readonly number[],
  said: Readonly<Record<string, number>>,
): readonly number[] {
  const named = outcomes.reduce((sum, each) => sum + (said[each] ?? 0), 0);
  const usualOfOthers = outcomes.reduce(
    (sum, each, index) => sum + (said[each] === undefined ? (usual[index] ?? 0) : 0),
    0,
  );
  const left = Math.max(0, 1 - named);
  return shares(
    outcomes.map(
      (each, index) =>
        said[each] ?? (usualOfOthers === 0 ? 0 : (left * (usual[index] ?? 0)) / usualOfOthers),
    ),
  );
}

function shares(raw: readonly number[]): readonly number[] {
  const kept = raw.map((each) => Math.max(each, shareMin));
  const sum = kept.reduce((total, each) => total + each, 0);
  return kept.map((each) => each / sum);
}
