import type { LookedAt } from '../facts/looked-at.ts';
import { type FaultCode, faultCodeSchema, faults } from '../faults/catalog.ts';
import type { CheckWords } from '../words/checks/check.ts';
import { type CheckCode, checkCodeSchema, checkWords } from '../words/checks.ts';
import { signCodeSchema, signWords } from '../words/signs.ts';
import type { PlacedClue } from './clues.ts';
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
  const due = dueFor.get(suspect.fault);
  return openChecks.map(({ code }) => code).filter((code) => due?.has(code));
}

const dueFor: ReadonlyMap<FaultCode, ReadonlySet<CheckCode>> = new Map(
  faultCodeSchema.options.map((fault) => {
    const { settledBy = [], exclusions } = faults[fault];
    const excluding = exclusions.flatMap(({ doneWhen }) => doneWhen.slice(0, 1));
    const excludes = (code: CheckCode) => excluding.some((sign) => records(code, sign));
    return [fault, new Set([...settledBy, ...checkCodeSchema.options.filter(excludes)])];
  }),
);

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
  const wanted = toldBy.get(code);
  return clues.filter(
    ({ clue, side: place, shown, isSpent }) =>
      shown === undefined &&
      !isSpent &&
      wanted?.has(clue.code) &&
      // A check made outdoors may read a thing indoors too; what either side has is meant where asked.
      (clue.on !== 'any' || place === side || sides.isOneMachine),
  );
}

/** What each check lets tell: its observations, and the signs that need one of its readings. */
const toldBy: ReadonlyMap<CheckCode, ReadonlySet<string>> = new Map(
  checkCodeSchema.options.map((code) => {
    const { observations, readings } = checkWords[code];
    const signs = signCodeSchema.options.filter((sign) =>
      signWords[sign].needs.some((need) => readings.includes(need)),
    );
    return [code, new Set<string>([...observations, ...signs])];
  }),
);

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

/** One buffer for each clue: the outcomes multiply, so nothing is kept of a branch once it is summed. */
function jointEntropyBits(shares: readonly number[], tables: Tables): number {
  const buffers = tables.map(() => new Float64Array(shares.length));
  const walk = (depth: number, weights: ArrayLike<number>): number => {
    const table = tables[depth];
    const buffer = buffers[depth];
    if (table === undefined || buffer === undefined) return surprise(sumOf(weights));
    let bits = 0;
    const outcomeCount = table[0]?.length ?? 0;
    for (let outcome = 0; outcome < outcomeCount; outcome += 1) {
      for (let at = 0; at < buffer.length; at += 1) {
        buffer[at] = (weights[at] ?? 0) * (table[at]?.[outcome] ?? 0);
      }
      bits += walk(depth + 1, buffer);
    }
    return bits;
  };
  return walk(0, shares);
}

function sumOf(weights: ArrayLike<number>): number {
  let sum = 0;
  for (let at = 0; at < weights.length; at += 1) sum += weights[at] ?? 0;
  return sum;
}

/** What one outcome of this share adds to the entropy. */
function surprise(share: number): number {
  return share > 0 ? -share * Math.log2(share) : 0;
}

function entropyBits(shares: readonly number[]): number {
  return shares.reduce((sum, share) => sum + surprise(share), 0);
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
    const { usual } = clue;
    tables[index]?.[at]?.forEach((share, outcome) => {
      if (share >= tellingRatio * (usual[outcome] ?? 1)) best = Math.max(best, share);
    });
  });
  return best;
}

function byText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
