import type { Machine, Reading } from '../evidence.ts';
import type { Facts } from '../facts/admit-evidence.ts';
import { observed } from '../facts/observed.ts';
import { readSign } from '../signs/read-sign.ts';
import { type ObservationCode, observationWords } from '../words/observations.ts';
import { type SignCode, signWords } from '../words/signs.ts';
import { type Clue, outcomesOf } from './likelihood.ts';
import type { Side } from './sides.ts';

/** A clue at its place in this system: what it showed, or whether it can still be looked for. */
export type PlacedClue = {
  clue: Clue;
  side: Side;
  /** Index into the clue's outcomes; undefined while it is not told. */
  shown: number | undefined;
  /** Measured already, though the method cannot tell the class: looking again tells no more. */
  isSpent: boolean;
};

/** What a clue shows on the machines of one side, the first machine that tells speaking. */
export function placeClue(
  clue: Clue,
  side: Side,
  machines: readonly Machine[],
  factsOf: ReadonlyMap<string, Facts>,
): PlacedClue {
  const facts = machines.flatMap(({ id }) => factsOf.get(id) ?? []);
  const outcome = facts.map((each) => outcomeIn(clue, each)).find((each) => each !== undefined);
  const shown = outcome === undefined ? undefined : outcomesOf(clue).indexOf(outcome);
  return { clue, side, shown, isSpent: shown === undefined && facts.some((f) => isRead(clue, f)) };
}

function outcomeIn(clue: Clue, facts: Facts): string | undefined {
  return isObservation(clue) ? observed(facts, clue)?.answer : readSign(clue, facts);
}

function isRead(clue: Clue, { readings }: Facts): boolean {
  if (isObservation(clue)) return false;
  return signWords[clue].needs.every((need) => readings.some((each) => need === keyOf(each)));
}

function keyOf({ point, quantity }: Reading): string {
  return `${point}.${quantity}`;
}

export function isObservation(clue: Clue): clue is ObservationCode {
  return clue in observationWords;
}

/** Where a clue can be looked for. */
export function placeOf(clue: Clue): Side | 'any' {
  return isObservation(clue) ? observationWords[clue].on : signWords[clue].on;
}

/** The signs that a set of readings lets tell. */
export function signsFrom(readings: readonly string[]): SignCode[] {
  return signCodes.filter((code) => signWords[code].needs.some((need) => readings.includes(need)));
}

const signCodes = Object.keys(signWords) as SignCode[];
