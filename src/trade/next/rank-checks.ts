import type { LookedAt } from '../facts/looked-at.ts';
import { faults } from '../faults/catalog.ts';
import type { CheckWords } from '../words/checks/check.ts';
import { type CheckCode, checkCodeSchema, checkWords } from '../words/checks.ts';
import { type PlacedClue, placeOf, signsFrom } from './clues.ts';
import { type Clue, usualShares } from './likelihood.ts';
import { sharesAt, type Weighted } from './posterior.ts';
import { placesOf, type Side, type Sides } from './sides.ts';

/** A check that would still tell something, with what it would tell. */
export type RankedCheck = {
  code: CheckCode;
  side: Side;
  /** Expected information about which suspect it is, in bits. */
  informationBits: number;
  /** How likely it shows the telling sign of a suspect that is not proven yet. */
  settlesShare: number;
  /** The suspect it would most likely show, or undefined when it only rules out. */
  shows: Weighted | undefined;
  perMinute: number;
};

/**
 * How much a minute of each kind of care counts: opening a panel, working live and putting gauges on
 * take preparation and can hurt, so that of two equally telling checks the safer comes first.
 * Common practice, no source.
 */
const careFactor: Record<CheckWords['care'], number> = {
  look: 1,
  power_off: 1.3,
  live: 1.6,
  gauges: 2,
};

/** A sign tells of a suspect when it is this many times as frequent with it as without. */
const tellingRatio = 12;

/**
 * The checks not done yet, those first that tell most per careful minute: the expected information
 * about the suspects plus the chance to settle one of them.
 */
export function rankChecks(
  weighted: readonly Weighted[],
  clues: readonly PlacedClue[],
  sides: Sides,
): RankedCheck[] {
  const openChecks = checkCodeSchema.options
    .flatMap((code) => placesOf(checkWords[code].on, sides).map((side) => ({ code, side })))
    .map(({ code, side }) => ({ code, side, open: openClues(code, side, clues, sides) }))
    .filter(({ open }) => open.length > 0);
  const left = new Map(weighted.map((each) => [each, leftToProve(each, openChecks)]));
  return openChecks
    .map((each) => rank(each, weighted, left, sides.isOneMachine))
    .sort((a, b) => b.perMinute - a.perMinute || byText(a.code, b.code));
}

type OpenCheck = { code: CheckCode; side: Side; open: readonly PlacedClue[] };
type Tables = readonly (readonly (readonly number[])[])[];
type Prospect = {
  weighted: readonly Weighted[];
  tables: Tables;
  left: ReadonlyMap<Weighted, readonly CheckCode[]>;
};

/** What a suspect still lacks: the checks of its proof, and those due before it may be blamed. */
function leftToProve({ suspect }: Weighted, openChecks: readonly OpenCheck[]): CheckCode[] {
  if (suspect.fault === 'something_else') return [];
  const { settledBy = [], exclusions } = faults[suspect.fault];
  const excluding = exclusions.flatMap(({ doneWhen }) => doneWhen.slice(0, 1));
  return openChecks
    .map(({ code }) => code)
    .filter((code) => settledBy.includes(code) || excluding.some((sign) => records(code, sign)));
}

function records(code: CheckCode, sign: LookedAt): boolean {
  const { observations, readings } = checkWords[code];
  return 'observation' in sign
    ? observations.includes(sign.observation)
    : readings.includes(`${sign.point}.${sign.quantity}`);
}

function rank(
  { code, side, open }: OpenCheck,
  weighted: readonly Weighted[],
  left: Prospect['left'],
  isOne: boolean,
): RankedCheck {
  const tables = open.map((clue) => weighted.map(({ suspect }) => sharesAt(suspect, clue, isOne)));
  const informationBits = expectedInformationBits(
    weighted.map(({ share }) => share),
    tables,
  );
  const settling = settlingOf(code, open, { weighted, tables, left });
  const { minutes, care } = checkWords[code];
  return {
    code,
    side,
    informationBits,
    settlesShare: settling.share,
    shows: settling.shows,
    perMinute: (informationBits + settling.share) / (minutes * careFactor[care]),
  };
}

function openClues(
  code: CheckCode,
  side: Side,
  clues: readonly PlacedClue[],
  sides: Sides,
): PlacedClue[] {
  const { observations, readings } = checkWords[code];
  const wanted: readonly Clue[] = [...observations, ...signsFrom(readings)];
  return clues.filter(
    (each) =>
      wanted.includes(each.clue) &&
      // A check made outdoors may read a thing indoors too; what either side has is meant where asked.
      (placeOf(each.clue) !== 'any' || each.side === side || sides.isOneMachine) &&
      each.shown === undefined &&
      !each.isSpent,
  );
}

/**
 * Mutual information, in bits, between the suspect and the joint outcome of several clues that are
 * independent under each suspect (Shannon). `tables[clue][suspect][outcome]` are shares.
 */
export function expectedInformationBits(shares: readonly number[], tables: Tables): number {
  const noise = tables.reduce(
    (sum, table) =>
      sum + shares.reduce((inner, share, at) => inner + share * entropyBits(table[at] ?? []), 0),
    0,
  );
  return Math.max(0, jointEntropyBits(shares, tables) - noise);
}

function jointEntropyBits(shares: readonly number[], tables: Tables): number {
  let weights: readonly (readonly number[])[] = [shares];
  for (const table of tables) {
    const outcomeCount = table[0]?.length ?? 0;
    weights = weights.flatMap((row) =>
      Array.from({ length: outcomeCount }, (_, outcome) =>
        row.map((weight, at) => weight * (table[at]?.[outcome] ?? 0)),
      ),
    );
  }
  return entropyBits(weights.map((row) => row.reduce((sum, weight) => sum + weight, 0)));
}

function entropyBits(shares: readonly number[]): number {
  return shares.reduce((sum, share) => (share > 0 ? sum - share * Math.log2(share) : sum), 0);
}

/** The chance that it brings an unproven suspect to its proof, and whom above all. */
function settlingOf(
  code: CheckCode,
  open: readonly PlacedClue[],
  { weighted, tables, left }: Prospect,
): { share: number; shows: Weighted | undefined } {
  let total = 0;
  let most = 0;
  let shows: Weighted | undefined;
  weighted.forEach((each, at) => {
    if (each.standing === 'proven') return;
    const due = left.get(each) ?? [];
    const partOfProof = due.includes(code) ? 1 / due.length : 0;
    const chance = each.share * Math.max(tellingShare(open, tables, at), partOfProof);
    total += chance;
    if (chance > most) {
      most = chance;
      shows = each;
    }
  });
  return { share: total, shows };
}

function tellingShare(open: readonly PlacedClue[], tables: Tables, at: number): number {
  let best = 0;
  open.forEach(({ clue }, index) => {
    const usual = usualShares(clue);
    tables[index]?.[at]?.forEach((share, outcome) => {
      if (share >= tellingRatio * (usual[outcome] ?? 1)) best = Math.max(best, share);
    });
  });
  return best;
}

function byText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
