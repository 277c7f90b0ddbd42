import { judgeWindings } from '../../electrical/windings.ts';
import type { Facts } from '../../facts/admit-evidence.ts';
import { lastLook } from '../../facts/last-look.ts';
import { type Measured, measuredAt, measuredFrom, readingsAt } from '../../facts/measured.ts';
import { observed } from '../../facts/observed.ts';
import type { Condition } from '../../verdicts/weigh-together.ts';
import { whenMeasured } from '../../verdicts/when-measured.ts';
import { whenObserved } from '../../verdicts/when-observed.ts';

/** The windings of a single-phase compressor are some tenths of an ohm to some 20; common practice, no source. */
const closedOhmsMax = 50;

/** A shell that a hand can rest on; common practice, no source. */
export const coolShellDegFMax = 110;

/** A compressor that its overload has stopped is too hot to touch; common practice, no source. */
export const hotShellDegFMin = 130;

/** That current can pass from run to start, so that neither winding is open. */
export function whenRunToStartClosed(facts: Facts): Condition {
  return eitherWay(
    whenClosed(facts, 'compressor_r_to_s', 'compressor from run to start'),
    whenObserved(facts, 'compressor_run_to_start_reads_open', 'no'),
  );
}

/**
 * That no current can pass from run to start, whatever the overload in common does. Where common
 * leads to both windings, run to start is their sum and cannot be open.
 */
export function whenRunToStartOpen(facts: Facts): Condition {
  const open = whenObserved(facts, 'compressor_run_to_start_reads_open');
  if (open.state !== 'holds') return open;
  const closed = whenClosed(facts, 'compressor_r_to_s', 'compressor from run to start');
  const ofCommon = whenCommonClosed(facts);
  if (closed.state === 'holds') return bothWays(closed, open);
  if (ofCommon.every(({ state }) => state === 'holds')) {
    return {
      ...open,
      state: 'unknown',
      says: 'Run to start was read open though common leads to both windings; measure again.',
      readingIds: ofCommon.flatMap(({ readingIds }) => readingIds),
      readingsDisagree: true,
    };
  }
  return open;
}

/**
 * That the meter was at the terminals of the compressor itself, leads off: who measured them to
 * ground or between common and a winding was. A burnt plug or lead reads open as well.
 */
export function whenLeadsOff(facts: Facts): Condition {
  const readingIds = leadsOffPoints.flatMap((point) =>
    readingsAt(facts, point, 'resistance').map(({ id }) => id),
  );
  const observationIds = observed(facts, 'compressor_to_ground_reads_open')?.ids ?? [];
  const isOff = readingIds.length + observationIds.length > 0;
  return {
    state: isOff ? 'holds' : 'unknown',
    says: isOff
      ? 'Its other terminals were measured too.'
      : 'Measure it to ground too, at its own terminals, leads off: a burnt plug reads open as well.',
    readingIds,
    observationIds,
    readingsDisagree: false,
  };
}

const leadsOffPoints = ['compressor_c_to_r', 'compressor_c_to_s', 'compressor_to_ground'] as const;

/** What the meter's figure says, or its OL; where both are on record and differ, nothing. */
function eitherWay(figure: Condition, seen: Condition): Condition {
  if (seen.state === 'unknown') return figure;
  return figure.state === 'unknown' || figure.state === seen.state ? seen : bothWays(figure, seen);
}

function bothWays(figure: Condition, seen: Condition): Condition {
  return {
    state: 'unknown',
    says: 'From run to start the compressor was read both open and closed; measure again.',
    readingIds: figure.readingIds,
    observationIds: seen.observationIds,
    readingsDisagree: true,
  };
}

/** That common leads to both windings, so that the overload between them is closed. */
export function whenCommonClosed(facts: Facts): Condition[] {
  return [
    whenClosed(facts, 'compressor_c_to_r', 'compressor from common to run'),
    whenClosed(facts, 'compressor_c_to_s', 'compressor from common to start'),
  ];
}

/** That run to start is the sum of the other two, as of two sound windings in series. */
export function whenWindingsAddUp(facts: Facts): Condition {
  const verdict = windingsVerdict(facts);
  const known = { readingIds: [], observationIds: [], readingsDisagree: false };
  if (verdict === undefined) {
    return { ...known, state: 'unknown', says: 'Measure all three pairs of its terminals.' };
  }
  return verdict === 'sum_off'
    ? { ...known, state: 'unknown', says: 'The three windings do not add up; measure again.' }
    : { ...known, state: 'holds', says: 'Run to start is the sum of the other two.' };
}

/** What the three resistances come to; undefined until all three are settled. */
export function windingsVerdict(facts: Facts): ReturnType<typeof judgeWindings> | undefined {
  const commonRun = measuredAt(facts, 'compressor_c_to_r', 'resistance');
  const commonStart = measuredAt(facts, 'compressor_c_to_s', 'resistance');
  const runStart = measuredAt(facts, 'compressor_r_to_s', 'resistance');
  if (commonRun.kind !== 'settled' || commonStart.kind !== 'settled') return undefined;
  if (runStart.kind !== 'settled') return undefined;
  return judgeWindings({
    commonRun: ohmsOf(commonRun.measured),
    commonStart: ohmsOf(commonStart.measured),
    runStart: ohmsOf(runStart.measured),
  });
}

/** That the compressor had been left to cool when its common was last read. */
export function whenReadAfterCooling(facts: Facts): Condition {
  const cooled = whenObserved(facts, 'compressor_cooled_down');
  if (cooled.state !== 'holds') return cooled;
  const at = lastLook(facts, 'compressor_cooled_down');
  const read = lastLook(facts, 'compressor_common_reads_open');
  return read >= at
    ? cooled
    : { ...cooled, state: 'unknown', says: 'Read common again now that it has cooled.' };
}

/** The shell as it was last measured: earlier it was hotter or cooler, and that is no contradiction. */
export function whenShell(facts: Facts, side: 'above' | 'below', limitDegF: number): Condition {
  const latest = readingsAt(facts, 'compressor_shell', 'temperature').at(-1);
  const settled =
    latest === undefined
      ? ({ kind: 'none' } as const)
      : ({ kind: 'settled', measured: measuredFrom(latest), doubts: [] } as const);
  return whenMeasured(settled, 'temperature of the compressor shell', side, limitDegF);
}

/** Whether common was ever read open, at the latest look or before it. */
export function wasCommonReadOpen(facts: Facts): boolean {
  const seen = observed(facts, 'compressor_common_reads_open');
  return seen !== undefined && (seen.answer === 'yes' || seen.changed);
}

function whenClosed(
  facts: Facts,
  point: 'compressor_c_to_r' | 'compressor_c_to_s' | 'compressor_r_to_s',
  what: string,
): Condition {
  return whenMeasured(measuredAt(facts, point, 'resistance'), what, 'below', closedOhmsMax);
}

function ohmsOf({ value, uncertainty }: Measured): { ohms: number; uncertaintyOhms: number } {
  return { ohms: value, uncertaintyOhms: uncertainty };
}
