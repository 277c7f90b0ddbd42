import type { LookedAt } from '../facts/looked-at.ts';
import { type FaultCode, faultCodeSchema, faults } from '../faults/catalog.ts';
import type { CheckWords } from '../words/checks/check.ts';
import { type CheckCode, checkCodeSchema, checkWords } from '../words/checks.ts';
import type { PlacedClue } from './clues.ts';
import { expectedInformationBits } from './information.ts';
import type { OpenCheck } from './open-checks.ts';
import type { Weighted } from './posterior.ts';
import type { Side } from './sides.ts';
import { rowsAt, type SuspectRows } from './suspect-rows.ts';
import type { Suspect } from './suspects.ts';

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
  /** It must be done before that suspect, proven already, may be blamed. */
  isDue: boolean;
  isUntouched: boolean;
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

/** What tells less than this tells nothing. */
const valueMinBits = 0.001;

/** Once a cause is proven and this likely, nothing is left to find: only what is due for it. */
const foundShareMin = 0.9;

/**
 * The checks worth doing next, those first that tell most per careful minute: the expected
 * information about the suspects plus the chance to settle one of them. Once a cause is proven only
 * what is due before it may be blamed.
 */
export function rankChecks(
  weighted: readonly Weighted[],
  rows: SuspectRows,
  checks: readonly OpenCheck[],
): RankedCheck[] {
  const shares = new Float64Array(weighted.map(({ share }) => share));
  const due = dueByCheck(weighted, checks);
  const isFound = weighted.some(
    ({ standing, suspect, shareOfFault }) =>
      standing === 'proven' && isCause(suspect) && shareOfFault >= foundShareMin,
  );
  const outlook = { weighted, rows, shares, due, waysOfOne: waysOfOne(weighted) };
  const ranked = checks.map((check) => rank(check, outlook));
  return heldBack(ranked)
    .filter(({ isDue, informationBits, settlesShare }) =>
      isFound ? isDue : isDue || informationBits + settlesShare >= valueMinBits,
    )
    .sort((a, b) => perMinute(b) - perMinute(a) || byText(a.code, b.code));
}

function perMinute({ code, informationBits, settlesShare }: RankedCheck): number {
  const { minutes, care } = checkWords[code];
  return (informationBits + settlesShare) / (minutes * careFactor[care]);
}

function isCause({ fault }: Suspect): boolean {
  return fault !== 'something_else' && faults[fault].role === 'cause';
}

/**
 * What can hurt is held back until what makes it safe is done: a grounded compressor is never
 * started once more, and what a safety keeps from starting is not started around it.
 * Common practice, no source.
 */
const onlyAfter: Partial<Readonly<Record<CheckCode, readonly CheckCode[]>>> = {
  try_test_start_device: [
    'measure_compressor_to_ground',
    'measure_line_voltage',
    'measure_capacitor',
  ],
  push_in_contactor: ['measure_high_pressure_switch', 'measure_compressor_to_ground'],
};

/** What is held back lends its worth, in equal parts, to what must come before it. */
function heldBack(ranked: readonly RankedCheck[]): RankedCheck[] {
  const firstOf = (code: CheckCode) => {
    const due = onlyAfter[code] ?? [];
    if (due.length === 0) return [];
    return ranked.filter(
      (each) => each.isUntouched && each.side === 'outdoor' && due.includes(each.code),
    );
  };
  const held = ranked.filter(({ code }) => firstOf(code).length > 0);
  const lent = new Map<RankedCheck, number>();
  for (const { code, settlesShare } of held) {
    const first = firstOf(code);
    for (const each of first) lent.set(each, (lent.get(each) ?? 0) + settlesShare / first.length);
  }
  return ranked
    .filter((each) => !held.includes(each))
    .map((each) => ({ ...each, settlesShare: each.settlesShare + (lent.get(each) ?? 0) }));
}

type Outlook = {
  weighted: readonly Weighted[];
  rows: SuspectRows;
  shares: Float64Array;
  due: ReadonlyMap<CheckCode, readonly Due[]>;
  waysOfOne: readonly Int32Array[];
};

/** The suspects, by index, that are one fault on one machine looking in several ways. */
function waysOfOne(weighted: readonly Weighted[]): Int32Array[] {
  const bySeat = new Map<number, number[]>();
  weighted.forEach(({ suspect: { seat } }, at) => {
    bySeat.set(seat, [...(bySeat.get(seat) ?? []), at]);
  });
  return [...bySeat.values()]
    .filter(({ length }) => length > 1)
    .map((ways) => new Int32Array(ways));
}

/** A suspect, by its index, whose proof still asks for a check, and how much of that proof it is. */
type Due = { at: number; part: number };

/** What suspects still lack: the checks of their proof, and those due before they may be blamed. */
function dueByCheck(
  weighted: readonly Weighted[],
  checks: readonly OpenCheck[],
): Map<CheckCode, Due[]> {
  const due = new Map(checks.map(({ code }): [CheckCode, Due[]] => [code, []]));
  weighted.forEach(({ suspect, standing }, at) => {
    if (suspect.fault === 'something_else') return;
    const table = standing === 'proven' ? excludingFor : dueFor;
    const left = (table.get(suspect.fault) ?? []).filter((code) => due.has(code));
    for (const code of left) due.get(code)?.push({ at, part: 1 / left.length });
  });
  return due;
}

/** What must be looked at before a fault may be blamed. */
const excludingFor: ReadonlyMap<FaultCode, readonly CheckCode[]> = new Map(
  faultCodeSchema.options.map((fault) => {
    const signs = faults[fault].exclusions.flatMap(({ doneWhen }) => doneWhen.slice(0, 1));
    const excludes = (code: CheckCode) => signs.some((sign) => records(code, sign));
    return [fault, checkCodeSchema.options.filter(excludes)];
  }),
);

const dueFor: ReadonlyMap<FaultCode, readonly CheckCode[]> = new Map(
  faultCodeSchema.options.map((fault) => [
    fault,
    [...new Set([...faults[fault].settledBy, ...(excludingFor.get(fault) ?? [])])],
  ]),
);

function records(code: CheckCode, sign: LookedAt): boolean {
  const { observations, readings } = checkWords[code];
  return 'observation' in sign
    ? observations.includes(sign.observation)
    : readings.includes(`${sign.point}.${sign.quantity}`);
}

function rank({ code, side, open, isUntouched }: OpenCheck, outlook: Outlook): RankedCheck {
  const { rows, shares } = outlook;
  const informationBits = expectedInformationBits(
    shares,
    open.map((placed) => ({ shares: placed.clue.table, rows: rowsAt(placed, rows) })),
    outlook.waysOfOne,
  );
  const settling = settlingOf(code, open, outlook);
  return {
    code,
    side,
    informationBits,
    settlesShare: settling.share,
    shows: settling.shows,
    isDue: settling.shows?.standing === 'proven',
    isUntouched,
  };
}

/** The chance that it brings an unproven suspect to its proof, and whom above all. */
function settlingOf(
  code: CheckCode,
  open: readonly PlacedClue[],
  outlook: Outlook,
): { share: number; shows: Weighted | undefined } {
  const settles = settledParts(code, open, outlook);
  let total = 0;
  let most = 0;
  let shows: Weighted | undefined;
  outlook.weighted.forEach((each, at) => {
    const chance = each.share * (settles[at] ?? 0);
    total += chance;
    if (chance > most) {
      most = chance;
      shows = each;
    }
  });
  return { share: total, shows };
}

/** For each suspect how much it would be settled: by its proof, or by the most telling clue. */
function settledParts(
  code: CheckCode,
  open: readonly PlacedClue[],
  { weighted, rows, due }: Outlook,
): Float64Array {
  const settles = new Float64Array(weighted.length);
  for (const { at, part } of due.get(code) ?? []) settles[at] = part;
  for (const placed of open) {
    const { telling } = placed.clue;
    const rowOf = rowsAt(placed, rows);
    for (let at = 0; at < settles.length; at += 1) {
      const told = telling[rowOf[at] ?? 0] ?? 0;
      // Who is proven needs no more telling signs.
      if (told > (settles[at] ?? 0) && weighted[at]?.standing !== 'proven') settles[at] = told;
    }
  }
  return settles;
}

function byText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
