import type { Machine } from '../evidence.ts';
import type { Facts } from '../facts/admit-evidence.ts';
import { observed } from '../facts/observed.ts';
import { readKeysOf } from '../facts/read-keys.ts';
import { readSign } from '../signs/read-sign.ts';
import { signWords } from '../words/signs.ts';
import { clues, type KnownClue } from './likelihood.ts';
import { placesOf, type Side, type Sides } from './sides.ts';

/** A clue at its place in this system: what it showed, or whether it can still be looked for. */
export type PlacedClue = {
  clue: KnownClue;
  side: Side;
  /** Index into the clue's outcomes; undefined while it is not told. */
  shown: number | undefined;
  /** Looked at or measured already, though it could not be told: looking again tells no more. */
  isSpent: boolean;
};

/** Every clue that this system can give, and what it shows so far. */
export function placeClues(sides: Sides, factsOf: ReadonlyMap<string, Facts>): PlacedClue[] {
  const factsOn = (side: Side): Facts[] =>
    machinesOn(side, sides).flatMap(({ id }) => factsOf.get(id) ?? []);
  const facts: Record<Side, Facts[]> = { outdoor: factsOn('outdoor'), indoor: factsOn('indoor') };
  const places = {
    outdoor: placesOf('outdoor', sides),
    indoor: placesOf('indoor', sides),
    any: placesOf('any', sides),
  };
  const placed: PlacedClue[] = [];
  for (const clue of clues) {
    for (const side of places[clue.on]) placed.push(placeClue(clue, side, facts[side]));
  }
  return placed;
}

function machinesOn(side: Side, sides: Sides): readonly Machine[] {
  return sides.isOneMachine ? [...new Set([...sides.outdoor, ...sides.indoor])] : sides[side];
}

/** The first machine of the side that tells speaks. */
function placeClue(clue: KnownClue, side: Side, facts: readonly Facts[]): PlacedClue {
  for (const each of facts) {
    const outcome = outcomeIn(clue, each);
    if (outcome !== undefined) {
      return { clue, side, shown: clue.outcomes.indexOf(outcome), isSpent: false };
    }
  }
  return { clue, side, shown: undefined, isSpent: facts.some((each) => isRead(clue, each)) };
}

function outcomeIn(clue: KnownClue, facts: Facts): string | undefined {
  return clue.kind === 'observation'
    ? observed(facts, clue.code)?.answer
    : readSign(clue.code, facts);
}

function isRead(clue: KnownClue, facts: Facts): boolean {
  if (clue.kind === 'observation') return facts.unknown.has(clue.code);
  const { needs, orNeeds } = signWords[clue.code];
  const read = readKeysOf(facts);
  return [needs, orNeeds ?? needs].some((each) => each.every((need) => read.has(need)));
}
