import { judgeRunningAmps, type RunningAmpsVerdict } from '../../electrical/locked-rotor.ts';
import type { Facts } from '../../facts/admit-evidence.ts';
import { compressorRunningAmps, compressorStartAmps } from '../../facts/compressor-amps.ts';
import { lastLook } from '../../facts/last-look.ts';
import { type Settled, show, showValue } from '../../facts/measured.ts';
import { latestInstant } from '../../facts/measured-near.ts';
import { pairGapMinutesMax } from '../../facts/nearest-in-time.ts';
import { seenSince } from '../../verdicts/last-interruption.ts';
import type { Condition } from '../../verdicts/weigh-together.ts';
import { whenMeasured } from '../../verdicts/when-measured.ts';

/**
 * That the compressor draws near its locked-rotor amps. Where only the peak of the start was held,
 * that one is judged: a sound compressor shows it too, so it says something of one that stands.
 */
export function whenLockedAmps(facts: Facts): Condition {
  const running = compressorRunningAmps(facts);
  return running.kind === 'none'
    ? whenNearLocked(facts, compressorStartAmps(facts))
    : whenStallAmps(facts);
}

/** The same by what it goes on drawing: every sound start peaks near locked-rotor amps. */
export function whenStallAmps(facts: Facts): Condition {
  return whenNearLocked(facts, compressorRunningAmps(facts));
}

/**
 * That it stalls: by what it goes on drawing, or by the held peak of a try in whose minutes it only
 * hummed. The peak alone is that of any start.
 */
export function whenStalled(facts: Facts): Condition {
  const drawn = whenStallAmps(facts);
  const peak = whenNearLocked(facts, compressorStartAmps(facts));
  if (drawn.readingIds.length > 0 || peak.readingIds.length === 0) return drawn;
  const hums = seenSince(facts, 'compressor_hums', 'yes', [peak]);
  const peakAt = latestInstant(facts, { ...peak, observationIds: [] }) ?? '';
  const apartMs = Math.abs(lastLook(facts, 'compressor_hums', 'yes') - Date.parse(peakAt));
  const isSameTry = hums.state === 'holds' && apartMs <= pairGapMinutesMax * 60_000;
  return isSameTry
    ? { ...peak, observationIds: hums.observationIds }
    : {
        ...peak,
        state: 'unknown',
        says: 'Clamp what it goes on drawing: every start peaks as high.',
      };
}

function whenNearLocked(facts: Facts, settled: Settled): Condition {
  const verdict = ampsVerdict(facts, settled);
  const base = whenMeasured(settled, 'current of the compressor', 'above', undefined);
  if (settled.kind !== 'settled' || verdict === undefined) return base;
  const state = verdict === 'near_lra' ? 'holds' : verdict === 'undecided' ? 'unknown' : 'fails';
  return { ...base, state, says: `${show(settled.measured)}${besidePlate(facts)}.` };
}

/** What running amps say beside the plate; undefined without a figure or without rated-load amps. */
export function ampsVerdict(facts: Facts, settled: Settled): RunningAmpsVerdict | undefined {
  const { compressorRlaAmps: rlaAmps, compressorLraAmps: lraAmps } = facts.equipment.nameplate;
  if (settled.kind !== 'settled' || rlaAmps === undefined) return undefined;
  const { value: amps, uncertainty: uncertaintyAmps } = settled.measured;
  return judgeRunningAmps({ amps, uncertaintyAmps, rlaAmps, lraAmps });
}

function besidePlate(facts: Facts): string {
  const { compressorRlaAmps: rla, compressorLraAmps: lra } = facts.equipment.nameplate;
  if (rla === undefined) return '';
  const locked = lra === undefined ? 'not on record' : showValue(lra, 'A');
  return `; the nameplate gives ${showValue(rla, 'A')} rated load and locked rotor ${locked}`;
}
