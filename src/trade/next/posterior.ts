import { faults } from '../faults/catalog.ts';
import type { Standing } from '../verdicts/verdict.ts';
import type { Verdict } from '../verdicts/weigh.ts';
import type { PlacedClue } from './clues.ts';
import { sharesUnder } from './likelihood.ts';
import type { Suspect } from './suspects.ts';

/**
 * A suspect with how likely it is by now, and how the evidence stands to its fault. `shareOfFault` is
 * that of the fault on this machine in all the ways it can look.
 */
export type Weighted = {
  suspect: Suspect;
  share: number;
  shareOfFault: number;
  standing: Standing | undefined;
};

/** The verdicts on each machine, by its id. */
export type VerdictsOf = ReadonlyMap<string, readonly Verdict[]>;

/** A decisive sign counts a hundred to one: sure as signs go, and still a human being's reading. */
const decisiveOdds = 100;

/** 'Something else' never falls below this: no list of faults is complete. */
const somethingElseMin = 0.02;

/**
 * How likely each suspect is, by Bayes' rule over the clues shown, taken as independent of each
 * other under each suspect; a decisive verdict counts on top. The shares add up to one.
 */
export function posterior(
  suspects: readonly Suspect[],
  clues: readonly PlacedClue[],
  verdictsOf: VerdictsOf,
  isAnyPlacedOnce: boolean,
): Weighted[] {
  const shown = clues.filter((each) => each.shown !== undefined);
  const weighed = suspects.map((suspect) => {
    const standing = standingOf(suspect, verdictsOf);
    let logShare = Math.log(suspect.prior) + logOddsOf(suspect, standing);
    for (const clue of shown) {
      logShare += Math.log(sharesAt(suspect, clue, isAnyPlacedOnce)[clue.shown ?? 0] ?? 1);
    }
    return { suspect, standing, logShare };
  });
  return withSharesOfFaults(withSomethingElse(normalized(weighed)));
}

/** The same for every way that one fault on one machine can look. */
export function faultKey(suspect: Suspect): string {
  return suspect.fault === 'something_else'
    ? suspect.fault
    : `${suspect.fault} ${suspect.machine.id}`;
}

/** The shares of a clue's outcomes under a suspect, given where both sit. */
export function sharesAt(
  suspect: Suspect,
  { clue, side }: Pick<PlacedClue, 'clue' | 'side'>,
  isAnyPlacedOnce: boolean,
): readonly number[] {
  if (suspect.fault === 'something_else') return clue.usual;
  const isElsewhere = clue.on === 'any' && !isAnyPlacedOnce && suspect.side !== side;
  // The breaker of the outdoor unit says nothing of the one indoors.
  return isElsewhere ? clue.usual : sharesUnder(suspect.way, clue);
}

type Scored = Omit<Weighted, 'shareOfFault'>;

function withSharesOfFaults(scored: readonly Scored[]): Weighted[] {
  const sums = new Map<string, number>();
  for (const { suspect, share } of scored) {
    const key = faultKey(suspect);
    sums.set(key, (sums.get(key) ?? 0) + share);
  }
  return scored.map((each) => ({ ...each, shareOfFault: sums.get(faultKey(each.suspect)) ?? 0 }));
}

function standingOf(suspect: Suspect, verdictsOf: VerdictsOf): Standing | undefined {
  if (suspect.fault === 'something_else') return undefined;
  const { fault, machine } = suspect;
  return verdictsOf.get(machine.id)?.find(({ faultCode }) => faultCode === fault)?.standing;
}

/**
 * A proven cause is the suspect; a proven symptom is open for all to see and says nothing of what is
 * behind it, so it does not outweigh its causes.
 */
function logOddsOf({ fault }: Suspect, standing: Standing | undefined): number {
  if (standing === 'contradicted') return -Math.log(decisiveOdds);
  const isCause = fault !== 'something_else' && faults[fault].role === 'cause';
  return standing === 'proven' && isCause ? Math.log(decisiveOdds) : 0;
}

function normalized(
  weighed: readonly { suspect: Suspect; standing: Standing | undefined; logShare: number }[],
): Scored[] {
  const highest = Math.max(...weighed.map(({ logShare }) => logShare));
  const raw = weighed.map(({ logShare }) => Math.exp(logShare - highest));
  const sum = raw.reduce((total, each) => total + each, 0);
  return weighed.map(({ suspect, standing }, index) => ({
    suspect,
    standing,
    share: (raw[index] ?? 0) / sum,
  }));
}

function withSomethingElse(shares: readonly Scored[]): Scored[] {
  const other = shares.find(({ suspect }) => suspect.fault === 'something_else')?.share ?? 0;
  if (other >= somethingElseMin) return [...shares];
  const scale = (1 - somethingElseMin) / (1 - other);
  return shares.map((each) =>
    each.suspect.fault === 'something_else'
      ? { ...each, share: somethingElseMin }
      : { ...each, share: each.share * scale },
  );
}
