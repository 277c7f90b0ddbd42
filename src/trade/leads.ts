import { z } from 'zod';
import { controlVoltsMax, controlVoltsMin, deadVoltsMax } from './electrical/control-volts.ts';
import type { Evidence } from './evidence.ts';
import { admitEvidence, type Facts } from './facts/admit-evidence.ts';
import { measuredAt } from './facts/measured.ts';
import { isObserved } from './facts/observed.ts';
import { type FaultCode, faultCodeSchema, faults } from './faults/catalog.ts';
import { compareWithLimit } from './verdicts/compare-with-limit.ts';
import { weigh } from './verdicts/weigh.ts';
import type { PointCode } from './words/points.ts';

/** Where a pattern of signs tells the technician to look; a hint, never evidence. */
export const leadSchema = z.strictObject({
  id: z.string(),
  statement: z.string(),
  look: z.string(),
  suspects: z.array(faultCodeSchema),
});
export type Lead = z.infer<typeof leadSchema>;

type LeadRule = Omit<Lead, 'suspects'> & {
  suspects: readonly FaultCode[];
  when: (facts: Facts, isFound: (fault: FaultCode) => boolean) => boolean;
};

/** The decision rules that fire, in the order of the table. */
export function leads(evidence: Evidence): Lead[] {
  return leadsFrom(admitEvidence(evidence));
}

/** The same from evidence already admitted, for whoever has it at hand. */
export function leadsFrom(facts: Facts): Lead[] {
  const isFound = (fault: FaultCode) =>
    ['proven', 'supported'].includes(weigh(fault, facts).standing);
  return leadRules
    .filter((rule) => rule.when(facts, isFound))
    .map(({ id, statement, look, suspects }) => ({
      id,
      statement,
      look,
      suspects: suspects.filter((fault) => isThinkable(fault, facts)),
    }));
}

/** A suspect may sit on other equipment of the system, but not where this nameplate excludes it. */
function isThinkable(fault: FaultCode, { equipment }: Facts): boolean {
  return faults[fault].rules.unfit?.(equipment.nameplate) === undefined;
}

/** Common practice, no source. */
const leadRules: readonly LeadRule[] = [
  {
    id: 'compressor_alone_stopped',
    statement: 'The outdoor fan runs while the compressor is silent or only hums.',
    look: 'Measure the compressor section of the run capacitor.',
    suspects: ['run_capacitor_herm'],
    when: (facts) => isObserved(facts, 'outdoor_fan_running') && isCompressorStopped(facts),
  },
  {
    id: 'outdoor_fan_alone_stopped',
    statement: 'The compressor runs while the outdoor fan is silent or only hums.',
    look: 'Measure the fan section of the run capacitor, then the fan motor.',
    suspects: ['run_capacitor_fan'],
    when: (facts) => isObserved(facts, 'compressor_running') && isOutdoorFanStopped(facts),
  },
  {
    id: 'fed_but_nothing_runs',
    statement: 'The contactor is in, line voltage is there, and nothing runs.',
    look: 'Look on the load side: both sections of the run capacitor and the voltage behind the contactor.',
    suspects: ['run_capacitor_herm', 'run_capacitor_fan', 'worn_contactor'],
    when: (facts) =>
      isObserved(facts, 'contactor_pulled_in') &&
      hasLineVoltage(facts) &&
      isCompressorStopped(facts) &&
      isOutdoorFanStopped(facts),
  },
  {
    id: 'both_start_by_hand',
    statement: 'With the contactor pushed in by hand both motors start: no dead capacitor.',
    look: 'Look at the control side: measure 24 V at the coil, then follow it back.',
    suspects: ['open_control_fuse', 'open_float_switch', 'worn_contactor'],
    when: (facts) => isObserved(facts, 'contactor_by_hand_both_start'),
  },
  {
    id: 'coil_fed_contacts_open',
    statement: 'The coil has its 24 V and the contacts stay open.',
    look: 'Look at the contactor itself: coil, debris, welded or jammed armature.',
    suspects: ['worn_contactor'],
    when: (facts) =>
      isFed(facts, 'contactor_coil') && isObserved(facts, 'contactor_pulled_in', 'no'),
  },
  {
    id: 'coil_not_fed',
    statement: 'The thermostat calls and the coil gets no voltage.',
    look: 'Look upstream: float switch, other safeties, control fuse, thermostat wire.',
    suspects: ['open_float_switch', 'open_control_fuse'],
    when: (facts) =>
      isDead(facts, 'contactor_coil') && isObserved(facts, 'thermostat_calling_cooling'),
  },
  {
    id: 'only_indoor_fan_runs',
    statement: 'The indoor fan runs, nothing outside does, though the thermostat calls.',
    look: 'Look at the float switch, which stops the cooling and may leave the fan running, and at the breaker of the outdoor unit.',
    suspects: ['open_float_switch', 'tripped_breaker'],
    when: (facts) =>
      isObserved(facts, 'thermostat_calling_cooling') &&
      isObserved(facts, 'indoor_fan_running') &&
      isCompressorStopped(facts) &&
      isOutdoorFanStopped(facts),
  },
  {
    id: 'pan_full',
    statement: 'The drain pan is full.',
    look: 'Look at the drain: draw it out from its outdoor end and test that it flows.',
    suspects: ['plugged_drain'],
    when: (facts) => isObserved(facts, 'drain_pan_full'),
  },
  {
    id: 'float_switch_open',
    statement:
      'The float switch is open: it stops the cooling though the fan may still run. It is not the cause.',
    look: 'Look for why water stands in the pan: test the drain. Never bypass the switch.',
    suspects: ['plugged_drain'],
    when: (_facts, isFound) => isFound('open_float_switch'),
  },
  {
    id: 'fuse_open',
    statement: 'The control fuse is open. It is not the cause: a short opened it.',
    look: 'Look for the short before fitting a new fuse, and never fit a larger one.',
    suspects: [],
    when: (_facts, isFound) => isFound('open_control_fuse'),
  },
  {
    id: 'breaker_tripped',
    statement: 'The breaker is tripped. It is not the cause: something drew too much current.',
    look: 'Look for a short or ground fault and for a locked motor; then reset once and measure the current.',
    suspects: [],
    when: (facts) => isObserved(facts, 'breaker_found_tripped'),
  },
  {
    id: 'breaker_trips_again',
    statement: 'The breaker trips again: it stays off.',
    look: 'At once means a short or ground fault; after seconds to minutes an overload, a locked motor or a weak breaker.',
    suspects: [],
    when: (facts) => isObserved(facts, 'breaker_trips_again'),
  },
];

function isCompressorStopped(facts: Facts): boolean {
  return isObserved(facts, 'compressor_running', 'no') || isObserved(facts, 'compressor_hums');
}

function isOutdoorFanStopped(facts: Facts): boolean {
  return isObserved(facts, 'outdoor_fan_running', 'no') || isObserved(facts, 'outdoor_fan_hums');
}

/** From memory of the usual nameplate of 208/230 V units: 187 V is the least they may run on. */
const usualSupplyVoltsMin = 187;

function hasLineVoltage(facts: Facts): boolean {
  const supplyVoltsMin = facts.equipment.nameplate.supplyVoltsMin ?? usualSupplyVoltsMin;
  return isSurely(facts, 'line_supply', 'above', supplyVoltsMin);
}

function isFed(facts: Facts, point: PointCode): boolean {
  return (
    isSurely(facts, point, 'above', controlVoltsMin) &&
    isSurely(facts, point, 'below', controlVoltsMax)
  );
}

function isDead(facts: Facts, point: PointCode): boolean {
  return isSurely(facts, point, 'below', deadVoltsMax);
}

function isSurely(facts: Facts, point: PointCode, side: 'above' | 'below', limitVolts: number) {
  const settled = measuredAt(facts, point, 'voltage');
  return settled.kind === 'settled' && compareWithLimit(settled.measured, limitVolts) === side;
}
