import { compareWithLimit } from '../uncertainty/compare-with-limit.ts';
import type { EquipmentKind } from '../words/equipment-kinds.ts';
import { blowerKinds, outdoorKinds } from '../words/kinds.ts';
import type { ObservationCode } from '../words/observations.ts';
import type { Facts } from './admit-evidence.ts';
import { compressorRunningAmps } from './compressor-amps.ts';
import { measuredAt, type Settled } from './measured.ts';
import { observed } from './observed.ts';

/** What is on record that current flows. */
export type Load = { readingIds: readonly string[]; observationIds: readonly string[] };

/** That a motor behind the contactor draws current; undefined when nobody recorded any. */
export function outdoorLoad(facts: Facts): Load | undefined {
  return compressorLoad(facts) ?? seenRunning(facts, 'outdoor_fan_running');
}

/** That the machine draws current through its breaker; undefined when nobody recorded any. */
export function machineLoad(facts: Facts): Load | undefined {
  const outdoors = outdoorLoad(facts);
  if (outdoors !== undefined) return outdoors;
  // The indoor fan is seen for the whole house; it loads the machine that holds it, no other.
  const holdsBlower = blowerKinds.some((kind: EquipmentKind) => kind === facts.equipment.kind);
  if (!holdsBlower) return undefined;
  return (
    drawn(measuredAt(facts, 'blower_lead', 'current')) ?? seenRunning(facts, 'indoor_fan_running')
  );
}

/**
 * That the machine draws nearly all it ever does: its compressor runs or, where it has none, its
 * blower. The current of a fan alone pulls no voltage down.
 */
export function fullLoad(facts: Facts): Load | undefined {
  const holdsCompressor = outdoorKinds.some((kind: EquipmentKind) => kind === facts.equipment.kind);
  return holdsCompressor ? compressorLoad(facts) : machineLoad(facts);
}

function compressorLoad(facts: Facts): Load | undefined {
  return drawn(compressorRunningAmps(facts)) ?? seenRunning(facts, 'compressor_running');
}

function drawn(current: Settled): Load | undefined {
  const flows = current.kind === 'settled' && compareWithLimit(current.measured, 0) === 'above';
  return flows ? { readingIds: current.measured.readingIds, observationIds: [] } : undefined;
}

function seenRunning(facts: Facts, code: ObservationCode): Load | undefined {
  const seen = observed(facts, code);
  return seen?.answer === 'yes' ? { readingIds: [], observationIds: seen.ids } : undefined;
}
