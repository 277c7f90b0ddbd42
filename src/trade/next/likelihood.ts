import { type FaultCode, faultCodeSchema, faults } from '../faults/catalog.ts';
import type { Expectations, Scene } from '../faults/fault.ts';
import {
  type ObservationCode,
  observationCodeSchema,
  observationWords,
} from '../words/observations.ts';
import { type SignCode, signCodeSchema, signWords } from '../words/signs.ts';

const plainly: readonly Scene[] = [{ share: 1, expects: {} }];

/** What a suspect can make likely or unlikely: an observation, or a sign in classes. */
export type Clue = ObservationCode | SignCode;

/** The outcomes of a clue, in a fixed order. */
export function outcomesOf(clue: Clue): readonly string[] {
  return tableOf(clue).outcomes;
}

/** How often each outcome is met on a call that has nothing to do with it. */
export function usualShares(clue: Clue): readonly number[] {
  return tableOf(clue).usual;
}

/**
 * How often each outcome is met when this fault is behind the call and looks as in this scene; they
 * add up to one.
 */
export function sharesUnder(fault: FaultCode, scene: number, clue: Clue): readonly number[] {
  return tableOf(clue).under.get(sceneKey(fault, scene)) ?? usualShares(clue);
}

/** The ways a fault can look, of which most have one only. */
export function scenesOf(fault: FaultCode): readonly Scene[] {
  return faults[fault].scenes ?? plainly;
}

function sceneKey(fault: FaultCode, scene: number): string {
  return `${fault} ${scene}`;
}

type ClueTable = {
  outcomes: readonly string[];
  usual: readonly number[];
  /** Only the scenes of faults that change it. */
  under: ReadonlyMap<string, readonly number[]>;
};

/** Nothing is ever quite certain: a share below this would let one slip of a pen rule out a fault. */
const shareMin = 0.002;

const tables: ReadonlyMap<Clue, ClueTable> = new Map<Clue, ClueTable>([
  ...observationCodeSchema.options.map((code): [Clue, ClueTable] => [code, observationTable(code)]),
  ...signCodeSchema.options.map((code): [Clue, ClueTable] => [code, signTable(code)]),
]);

function tableOf(clue: Clue): ClueTable {
  const table = tables.get(clue);
  if (table === undefined) throw new RangeError(`there is no clue ${clue}`);
  return table;
}

function observationTable(code: ObservationCode): ClueTable {
  const yesAndNo = (yes: number) => shares([yes, 1 - yes]);
  return {
    outcomes: ['yes', 'no'],
    usual: yesAndNo(observationWords[code].usually),
    under: underEach((expects) => {
      const yes = expects[code];
      return yes === undefined ? undefined : yesAndNo(yes);
    }),
  };
}

function signTable(code: SignCode): ClueTable {
  const { usually } = signWords[code];
  const outcomes = Object.keys(usually);
  const usual = outcomes.map((each) => usually[each] ?? 0);
  return {
    outcomes,
    usual: shares(usual),
    under: underEach((expects) => {
      const said: Readonly<Record<string, number>> | undefined = expects[code];
      return said === undefined ? undefined : filledUp(outcomes, usual, said);
    }),
  };
}

function underEach(
  sharesOf: (expects: Expectations) => readonly number[] | undefined,
): Map<string, readonly number[]> {
  const under = new Map<string, readonly number[]>();
  for (const fault of faultCodeSchema.options) {
    scenesOf(fault).forEach((scene, index) => {
      const said = sharesOf({ ...scene.expects, ...faults[fault].expects });
      if (said !== undefined) under.set(sceneKey(fault, index), said);
    });
  }
  return under;
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
