import type { Facts } from '../facts/admit-evidence.ts';
import { compressorRunningAmps, compressorStartAmps } from '../facts/compressor-amps.ts';
import { compressorToGround, toGroundOhms } from '../facts/compressor-to-ground.ts';
import { measuredAt } from '../facts/measured.ts';
import { isObserved } from '../facts/observed.ts';
import { ampsVerdict } from '../faults/compressor/when-locked-amps.ts';
import { windingsVerdict } from '../faults/compressor/winding-conditions.ts';
import { compareWithBand } from '../uncertainty/compare-with-band.ts';
import { compareWithLimit } from '../uncertainty/compare-with-limit.ts';
import type { SignReader } from './sign-reader.ts';

export const compressorSignReaders = {
  start_capacitor: readStartCapacitor,
  compressor_amps: readAmps,
  compressor_windings: readWindings,
  compressor_to_ground: readToGround,
} satisfies {
  [Code in
    | 'start_capacitor'
    | 'compressor_amps'
    | 'compressor_windings'
    | 'compressor_to_ground']: SignReader<Code>;
};

/** A crankcase heater draws some tenths of an ampere through the common lead; common practice, no source. */
const standingAmpsMax = 0.5;

function readStartCapacitor(facts: Facts): 'failed' | 'fine' | undefined {
  const { startCapacitorUfMin: low, startCapacitorUfMax: high } = facts.equipment.nameplate;
  const settled = measuredAt(facts, 'start_capacitor', 'capacitance');
  if (settled.kind !== 'settled' || low === undefined || high === undefined) return undefined;
  const side = compareWithBand(settled.measured, { low, high });
  if (side === 'undecided') return undefined;
  return side === 'inside' ? 'fine' : 'failed';
}

function readAmps(facts: Facts): 'none' | 'normal' | 'high' | 'locked' | undefined {
  const running = compressorRunningAmps(facts);
  if (running.kind === 'none') return readStart(facts);
  if (running.kind !== 'settled') return undefined;
  const standing = compareWithLimit(running.measured, standingAmpsMax);
  if (standing !== 'above') return standing === 'below' ? 'none' : undefined;
  switch (ampsVerdict(facts, running)) {
    case 'far_below':
    case 'normal':
      return 'normal';
    case 'above_rla':
      return 'high';
    case 'near_lra':
      return 'locked';
    case 'undecided':
    case undefined:
      return undefined;
  }
}

/** The peak of a start says something only of a compressor that did not start. */
function readStart(facts: Facts): 'locked' | undefined {
  const isStanding =
    isObserved(facts, 'compressor_running', 'no') || isObserved(facts, 'compressor_hums');
  const verdict = ampsVerdict(facts, compressorStartAmps(facts));
  return isStanding && verdict === 'near_lra' ? 'locked' : undefined;
}

function readWindings(facts: Facts): 'off' | 'fine' | undefined {
  const verdict = windingsVerdict(facts);
  if (verdict === undefined) return undefined;
  return verdict === 'sum_off' ? 'off' : 'fine';
}

function readToGround(facts: Facts): 'grounded' | 'fine' | undefined {
  const settled = compressorToGround(facts);
  if (settled.kind !== 'settled') return undefined;
  if (compareWithLimit(settled.measured, toGroundOhms.grounded) === 'below') return 'grounded';
  const isGood = compareWithLimit(settled.measured, toGroundOhms.doubtful) === 'above';
  return isGood ? 'fine' : undefined;
}
