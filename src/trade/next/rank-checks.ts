import type { LookedAt } from '../facts/looked-at.ts';
import { type FaultCode, faultCodeSchema, faults } from '../faults/catalog.ts';
import type { CheckWords } from '../words/checks/check.ts';
import { type CheckCode, checkCodeSchema, checkWords } from '../words/checks.ts';
import type { PlacedClue } from './clues.ts';
import { type ClueTable, expectedInformationBits, tabulate } from './information.ts';
import type { OpenCheck } from './open-checks.ts';
import { sharesAt, type Weighted } from './posterior.ts';
import type { Side } from './sides.ts';

/** A check that would still tell something, with what it would tell. */
export type RankedCheck = {
  code: CheckCode;
  side: Side;
  /** Expected information about which suspect it is, in bits. */
  informationBits: number;
  /** How likely it brings a suspect that is not proven yet to its proof. */
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
  checks: readonly OpenCheck[],
  isAnyPlacedOnce: boolean,
): RankedCheck[] {
  const shares = Float64Array.from(weighted, ({ share }) => share);
  const open = new Set(checks.map(({ code }) => code));
  const left = weighted.map((each) => leftToProve(each, open));
  const prospects = new Map<PlacedClue, Prospect>();
  for (const clue of new Set(checks.flatMap(({ open }) => open))) {
    prospects.set(clue, prospectOf(clue, weighted, shares, isAnyPlacedOnce));
  }
  return checks
    .map((check) => rank(check, { weighted, shares, left, prospects }))
    .sort((a, b) => b.perMinute - a.perMinute || byText(a.code, b.code));
}

/** What a clue would tell, whichever check gives it. */
type Prospect = {
  table: ClueTable;
  /** For each suspect, the share of its most telling outcome; 0 where none tells. */
  telling: readonly number[];
};

type Outlook = {
  weighted: readonly Weighted[];
  shares: Float64Array;
  /** For each suspect, the checks of its proof that are still open. */
  left: readonly ReadonlySet<CheckCode>[];
  prospects: ReadonlyMap<PlacedClue, Prospect>;
};

function prospectOf(
  placed: PlacedClue,
  weighted: readonly Weighted[],
  shares: Float64Array,
  isAnyPlacedOnce: boolean,
): Prospect {
  const rows = weighted.map(({ suspect }) => sharesAt(suspect, placed, isAnyPlacedOnce));
  const { usual } = placed.clue;
  const telling = rows.map((row) => (row === usual ? 0 : mostTelling(row, usual)));
  return { table: tabulate(shares, rows), telling };
}

function mostTelling(row: readonly number[], usual: readonly number[]): number {
  return row.reduce(
    (best, share, outcome) =>
      share > best && share >= tellingRatio * (usual[outcome] ?? 1) ? share : best,
    0,
  );
}

/** What a suspect still lacks: the checks of its proof, and those due before it may be blamed. */
function leftToProve({ suspect }: Weighted, open: ReadonlySet<CheckCode>): Set<CheckCode> {
  if (suspect.fault === 'something_else') return new Set();
  return new Set([...(dueFor.get(suspect.fault) ?? [])].filter((code) => open.has(code)));
}

const dueFor: ReadonlyMap<FaultCode, ReadonlySet<CheckCode>> = new Map(
  faultCodeSchema.options.map((fault) => {
    const { settledBy, exclusions } = faults[fault];
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

function rank({ code, side, open }: OpenCheck, outlook: Outlook): RankedCheck {
  const prospects = open.flatMap((clue) => outlook.prospects.get(clue) ?? []);
  const informationBits = expectedInformationBits(
    outlook.shares,
    prospects.map(({ table }) => table),
  );
  const settling = settlingOf(code, prospects, outlook);
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

/** The chance that it brings an unproven suspect to its proof, and whom above all. */
function settlingOf(
  code: CheckCode,
  prospects: readonly Prospect[],
  { weighted, left }: Outlook,
): { share: number; shows: Weighted | undefined } {
  let total = 0;
  let most = 0;
  let shows: Weighted | undefined;
  weighted.forEach((each, at) => {
    if (each.standing === 'proven') return;
    const due = left[at];
    let settles = due?.has(code) ? 1 / due.size : 0;
    for (const { telling } of prospects) settles = Math.max(settles, telling[at] ?? 0);
    const chance = each.share * settles;
    total += chance;
    if (chance > most) {
      most = chance;
      shows = each;
    }
  });
  return { share: total, shows };
}

function byText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
