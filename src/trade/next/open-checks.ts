import { type CheckCode, checkCodeSchema, checkWords } from '../words/checks.ts';
import { type SignCode, signWords } from '../words/signs.ts';
import type { PlacedClue } from './clues.ts';
import { clues, type KnownClue } from './likelihood.ts';
import { placesOf, type Side, type Sides } from './sides.ts';

/** A check on one side of the system, with the clues it would still give. */
export type OpenCheck = {
  code: CheckCode;
  side: Side;
  open: readonly PlacedClue[];
  /** Nothing of what it would tell is told yet. */
  isUntouched: boolean;
};

/**
 * The checks that would still tell something.
 * @param read what has been read so far, each as point.quantity: a sign that needs more readings
 *   than one check takes is told by the check that takes the last of them
 */
export function openChecks(
  placed: readonly PlacedClue[],
  read: ReadonlySet<string>,
  sides: Sides,
): OpenCheck[] {
  const untold = untoldByNumber(placed);
  const shown = new Set(
    placed.filter((each) => each.shown !== undefined).map(({ clue }) => clue.number),
  );
  return checkCodeSchema.options.flatMap((code) => {
    const told = toldBy(code, untold, read);
    const isUntouched = !(tellableBy.get(code) ?? []).some(({ number }) => shown.has(number));
    return placesOf(checkWords[code].on, sides)
      .map((side) => {
        const open = told.filter((each) => isHere(each, side, sides));
        return { code, side, open, isUntouched };
      })
      .filter(({ open }) => open.length > 0);
  });
}

/** What is not told yet of each clue, by the clue's number: one for each place it is looked for. */
function untoldByNumber(placed: readonly PlacedClue[]): PlacedClue[][] {
  const untold: PlacedClue[][] = clues.map(() => []);
  for (const each of placed) {
    if (each.shown === undefined && !each.isSpent) untold[each.clue.number]?.push(each);
  }
  return untold;
}

/** The clues, in their order, that a check would tell. */
function toldBy(
  code: CheckCode,
  untold: readonly (readonly PlacedClue[])[],
  read: ReadonlySet<string>,
): PlacedClue[] {
  const told: PlacedClue[] = [];
  for (const { number, missing } of tellableBy.get(code) ?? []) {
    const places = untold[number] ?? [];
    if (places.length === 0) continue;
    if (missing.some((needs) => needs.every((need) => read.has(need)))) told.push(...places);
  }
  return told;
}

/** A check made outdoors may read a thing indoors too; what either side has is meant where asked. */
function isHere({ clue, side: place }: PlacedClue, side: Side, sides: Sides): boolean {
  return clue.on !== 'any' || place === side || sides.isOneMachine;
}

/** A clue that a check can tell, with the readings it misses for each way to tell it. */
type Tellable = { number: number; missing: readonly (readonly string[])[] };

const tellableBy: ReadonlyMap<CheckCode, readonly Tellable[]> = new Map(
  checkCodeSchema.options.map((code) => [code, clues.flatMap((clue) => tellable(code, clue))]),
);

function tellable(code: CheckCode, clue: KnownClue): Tellable[] {
  const { observations, readings } = checkWords[code];
  const { number } = clue;
  if (clue.kind === 'observation') {
    return observations.includes(clue.code) ? [{ number, missing: [[]] }] : [];
  }
  const ways = waysToTell(clue.code);
  const isTouched = ways.some((needs) => needs.some((need) => readings.includes(need)));
  if (!isTouched) return [];
  return [
    { number, missing: ways.map((needs) => needs.filter((need) => !readings.includes(need))) },
  ];
}

function waysToTell(code: SignCode) {
  const { needs, orNeeds } = signWords[code];
  return orNeeds === undefined ? [needs] : [needs, orNeeds];
}
