import { faults } from '../faults/catalog.ts';
import type { Standing } from '../verdicts/verdict.ts';
import type { Verdict } from '../weigh.ts';
import type { PlacedClue } from './clues.ts';
import { rowsAt, type SuspectRows } from './suspect-rows.ts';
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
  rows: SuspectRows,
  clues: readonly PlacedClue[],
  verdictsOf: VerdictsOf,
): Weighted[] {
  const standings = standingsOf(suspects, verdictsOf);
  const logShares = new Float64Array(
    suspects.map((suspect, at) => Math.log(suspect.prior) + logOddsOf(suspect, standings[at])),
  );
  for (const clue of clues) addLogShares(clue, rows, logShares);
  const shares = withSomethingElse(normalized(logShares), suspects);
  const sums = sumsBySeat(suspects, shares);
  return suspects.map((suspect, at) => ({
    suspect,
    share: shares[at] ?? 0,
    shareOfFault: sums[suspect.seat] ?? 0,
    standing: standings[at],
  }));
}

/** What a clue shows speaks for or against each suspect; one that shows nothing yet does not. */
function addLogShares(clue: PlacedClue, rows: SuspectRows, logShares: Float64Array): void {
  if (clue.shown === undefined) return;
  const column = clue.clue.logColumns[clue.shown];
  const rowOf = rowsAt(clue, rows);
  for (let at = 0; at < logShares.length; at += 1) {
    logShares[at] = (logShares[at] ?? 0) + (column?.[rowOf[at] ?? 0] ?? 0);
  }
}

function standingsOf(
  suspects: readonly Suspect[],
  verdictsOf: VerdictsOf,
): (Standing | undefined)[] {
  const ofMachine = new Map(
    [...verdictsOf].map(([id, verdicts]) => [
      id,
      new Map(verdicts.map(({ faultCode, standing }) => [faultCode, standing])),
    ]),
  );
  return suspects.map((suspect) =>
    suspect.fault === 'something_else'
      ? undefined
      : ofMachine.get(suspect.machine.id)?.get(suspect.fault),
  );
}

function sumsBySeat(suspects: readonly Suspect[], shares: Float64Array): Float64Array {
  const sums = new Float64Array(suspects.length);
  suspects.forEach(({ seat }, at) => {
    sums[seat] = (sums[seat] ?? 0) + (shares[at] ?? 0);
  });
  return sums;
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

function normalized(logShares: Float64Array): Float64Array {
  const highest = logShares.reduce((most, each) => Math.max(most, each), -Infinity);
  const raw = logShares.map((each) => Math.exp(each - highest));
  const sum = raw.reduce((total, each) => total + each, 0);
  return raw.map((each) => each / sum);
}

function withSomethingElse(shares: Float64Array, suspects: readonly Suspect[]): Float64Array {
  const otherAt = suspects.findIndex(({ fault }) => fault === 'something_else');
  const other = shares[otherAt] ?? 0;
  if (other >= somethingElseMin) return shares;
  const scale = (1 - somethingElseMin) / (1 - other);
  return shares.map((share, at) => (at === otherAt ? somethingElseMin : share * scale));
}
