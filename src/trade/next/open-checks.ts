import { type CheckCode, checkCodeSchema, checkWords } from '../words/checks.ts';
import { type SignCode, signCodeSchema, signWords } from '../words/signs.ts';
import type { PlacedClue } from './clues.ts';
import { placesOf, type Side, type Sides } from './sides.ts';

/** A check on one side of the system, with the clues it would still give. */
export type OpenCheck = { code: CheckCode; side: Side; open: readonly PlacedClue[] };

/**
 * The checks that would still tell something.
 * @param read what has been read so far, each as point.quantity: a sign that needs more readings
 *   than one check takes is told by the check that takes the last of them
 */
export function openChecks(
  clues: readonly PlacedClue[],
  read: ReadonlySet<string>,
  sides: Sides,
): OpenCheck[] {
  const untold = clues.filter(({ shown, isSpent }) => shown === undefined && !isSpent);
  return checkCodeSchema.options.flatMap((code) =>
    placesOf(checkWords[code].on, sides)
      .map((side) => ({
        code,
        side,
        open: untold.filter((each) => isToldBy(code, each, read) && isHere(each, side, sides)),
      }))
      .filter(({ open }) => open.length > 0),
  );
}

function isToldBy(code: CheckCode, { clue }: PlacedClue, read: ReadonlySet<string>): boolean {
  if (clue.kind === 'observation') return observedBy.get(code)?.has(clue.code) ?? false;
  if (!signsOf.get(code)?.has(clue.code)) return false;
  const { readings } = checkWords[code];
  return waysToTell(clue.code).some((needs) =>
    needs.every((need) => readings.includes(need) || read.has(need)),
  );
}

function waysToTell(code: SignCode) {
  const { needs, orNeeds } = signWords[code];
  return orNeeds === undefined ? [needs] : [needs, orNeeds];
}

/** A check made outdoors may read a thing indoors too; what either side has is meant where asked. */
function isHere({ clue, side: place }: PlacedClue, side: Side, sides: Sides): boolean {
  return clue.on !== 'any' || place === side || sides.isOneMachine;
}

const observedBy: ReadonlyMap<CheckCode, ReadonlySet<string>> = new Map(
  checkCodeSchema.options.map((code) => [code, new Set<string>(checkWords[code].observations)]),
);

/** The signs that need one of the readings of a check. */
const signsOf: ReadonlyMap<CheckCode, ReadonlySet<string>> = new Map(
  checkCodeSchema.options.map((code) => {
    const { readings } = checkWords[code];
    const touches = (sign: SignCode) =>
      waysToTell(sign).some((needs) => needs.some((need) => readings.includes(need)));
    return [code, new Set<string>(signCodeSchema.options.filter(touches))];
  }),
);
