import { judgeRunningAmps, type RunningAmpsVerdict } from '../../electrical/locked-rotor.ts';
import type { Facts } from '../../facts/admit-evidence.ts';
import { compressorRunningAmps, compressorStartAmps } from '../../facts/compressor-amps.ts';
import { type Settled, show, showValue } from '../../facts/measured.ts';
import type { Condition } from '../../verdicts/weigh-together.ts';
import { whenMeasured } from '../../verdicts/when-measured.ts';

/**
 * That the compressor draws near its locked-rotor amps. Where only the peak of the start was held,
 * that one is judged: a sound compressor shows it too, so it says something of one that stands.
 */
export function whenLockedAmps(facts: Facts): Condition {
  const settled = lockedAmps(facts);
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

function lockedAmps(facts: Facts): Settled {
  const running = compressorRunningAmps(facts);
  return running.kind === 'none' ? compressorStartAmps(facts) : running;
}

function besidePlate(facts: Facts): string {
  const { compressorRlaAmps: rla, compressorLraAmps: lra } = facts.equipment.nameplate;
  if (rla === undefined) return '';
  const locked = lra === undefined ? 'not on record' : showValue(lra, 'A');
  return `; the nameplate gives ${showValue(rla, 'A')} rated load and locked rotor ${locked}`;
}
