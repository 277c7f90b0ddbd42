import { type FaultCode, faultCodeSchema, faults } from '../faults/catalog.ts';
import type { Expectations, Scene } from '../faults/fault.ts';
import {
  type ObservationCode,
  observationCodeSchema,
  observationWords,
} from '../words/observations.ts';
import { type SignCode, signCodeSchema, signWords } from '../words/signs.ts';
import { type ShareTable, tabulate } from './information.ts';

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

/** A clue with what follows from its shares alone, reckoned once for all systems and calls. */
export type KnownClue = Clue & {
  /** Its place among all clues. */
  number: number;
  /** A row for each way a fault can look, by its number, and `usualRow`. */
  table: ShareTable;
  /** The natural logarithms of the columns of the table. */
  logColumns: readonly Float64Array[];
  /** For each row the share of its most frequent telling outcome; 0 where none tells. */
  telling: Float64Array;
};

/** One of the ways a fault can look. The numbers count all ways of the catalog. */
export type Way = { number: number; fault: FaultCode; scene: Scene };

const plainly: readonly Scene[] = [{ share: 1, expects: {} }];

const ways: readonly Way[] = faultCodeSchema.options
  .flatMap((fault) => (faults[fault].scenes ?? plainly).map((scene) => ({ fault, scene })))
  .map((way, number) => ({ ...way, number }));

/** The row of a clue's table in which everything is as usual. */
export const usualRow = ways.length;

const waysByFault: ReadonlyMap<FaultCode, readonly Way[]> = new Map(
  faultCodeSchema.options.map((fault) => [fault, ways.filter((way) => way.fault === fault)]),
);

const waysBySide = { outdoor: thoseOn('outdoor'), indoor: thoseOn('indoor') };

function thoseOn(side: 'outdoor' | 'indoor'): ReadonlyMap<FaultCode, readonly Way[]> {
  const fits = ({ scene: { on } }: Way) => on === undefined || on === side;
  return new Map([...waysByFault].map(([fault, all]) => [fault, all.filter(fits)]));
}

/** The ways a fault can look, of which most have one only. */
export function waysOf(fault: FaultCode): readonly Way[] {
  return waysByFault.get(fault) ?? [];
}

/** The ways a fault can look on one side of a system that has two. */
export function waysOn(fault: FaultCode, side: 'outdoor' | 'indoor'): readonly Way[] {
  return waysBySide[side].get(fault) ?? [];
}

/** How often each outcome is met in this way of a fault; they add up to one. */
export function sharesUnder(way: number, clue: Clue): readonly number[] {
  return clue.under[way] ?? clue.usual;
}

/** Nothing is ever quite certain: a share below this would let one slip of a pen rule out a fault. */
const shareMin = 0.002;

/** A sign tells of a suspect when it is this many times as frequent with it as without. */
const tellingRatio = 12;

/** Every clue there is, observations first. */
export const clues: readonly KnownClue[] = [
  ...observationCodeSchema.options.map(observationClue),
  ...signCodeSchema.options.map(signClue),
].map(knownClue);

function knownClue(clue: Clue, number: number): KnownClue {
  const rows = [...ways.map((way) => sharesUnder(way.number, clue)), clue.usual];
  const table = tabulate(rows);
  return {
    ...clue,
    number,
    table,
    logColumns: table.columns.map((column) => column.map((share) => Math.log(share))),
    telling: Float64Array.from(rows, (row) => mostTelling(row, clue.usual)),
  };
}

/** Where a row is as usual nothing is that much more frequent, so it tells nothing. */
function mostTelling(row: readonly number[], usual: readonly number[]): number {
  return row.reduce(
    (best, share, outcome) =>
      share > best && share >= tellingRatio * (usual[outcome] ?? 1) ? share : best,
    0,
  );
}

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
