import { controlVoltsMin } from '../../electrical/control-volts.ts';
import type { Facts } from '../../facts/admit-evidence.ts';
import { measuredAt } from '../../facts/measured.ts';
import { observed } from '../../facts/observed.ts';
import { anyOf } from '../../verdicts/any-of.ts';
import type { Weighed } from '../../verdicts/verdict.ts';
import { weighLimit } from '../../verdicts/weigh-limit.ts';
import { weighObservation } from '../../verdicts/weigh-observation.ts';
import { type Condition, weighTogether } from '../../verdicts/weigh-together.ts';
import { whenObserved } from '../../verdicts/when-observed.ts';
import { boardKinds } from '../../words/kinds.ts';
import { cautions } from '../cautions.ts';
import { noControlPower } from '../expectations.ts';
import type { Fault } from '../fault.ts';
import { controlCableOhmsMin } from './control-cable.ts';
import { whenCableIsSound } from './when-cable-is-sound.ts';
import { whenFed } from './when-fed.ts';

export const controlShort = {
  name: 'Short in the control wiring',
  explanation:
    'A thin cable carries the low voltage by which thermostat and equipment talk. Where its wires are rubbed bare or crushed they touch each other; the control fuse then blows, or the control voltage breaks down. Mending the wire takes away the reason, so that a new fuse holds.',
  partOfSystem: 'control',
  role: 'cause',
  kinds: boardKinds,
  dear: false,
  cautions: [
    cautions.lowVoltage,
    'Never fit a larger fuse than the board is marked for.',
    cautions.gasFurnace,
  ],
  exclusions: [],
  remedies: [
    {
      task: 'repair_control_wiring',
      remedyClass: 'repair',
      needs: 'supported',
      partCategories: [],
    },
  ],
  rules: { criteria: weighShort },
  settledBy: ['measure_control_cable', 'pull_control_fuse'],
  perThousand: 15,
  expects: {
    ...noControlPower,
    control_fuse_reads_open: 0.93,
    control_fuse_seen_blown: 0.88,
    control_wire_damaged: 0.6,
    control_cable_ohms: { short: 0.7 },
    transformer_primary_volts: { fine: 0.99 },
    transformer_secondary_volts: { fine: 0.93 },
  },
} as const satisfies Fault;

function weighShort(facts: Facts): Weighed[] {
  const cable = measuredAt(facts, 'control_cable', 'resistance');
  const label = 'Outdoor control cable, from wire to wire';
  return [
    weighLimit(
      {
        id: 'cable_shorted',
        statement: 'The outdoor control cable, taken off, has less than 2 ohm from wire to wire.',
        direction: 'for',
        weight: 'decisive',
      },
      cable,
      { label, metWhen: 'below', limit: controlCableOhmsMin, because: 'a short is below' },
    ),
    // A wire that was damaged long ago need not touch anything: the fuse says that it does.
    weighTogether(
      {
        id: 'wire_damaged_and_fuse_open',
        statement: 'A photo shows a damaged control wire, and the control fuse is open.',
        direction: 'for',
        weight: 'decisive',
      },
      whenSeenOnPhoto(facts),
      [whenFuseIsOpen(facts), whenCableIsNotCleared(facts)],
    ),
    weighObservation(facts, {
      id: 'wire_damaged',
      direction: 'for',
      code: 'control_wire_damaged',
      weight: 'indicative',
    }),
    // It clears this cable alone: the wires of thermostat and float switch are others.
    weighLimit(
      {
        id: 'cable_not_shorted',
        statement: 'The outdoor control cable, taken off, is not shorted from wire to wire.',
        direction: 'against',
        weight: 'indicative',
      },
      cable,
      { label, metWhen: 'above', limit: controlCableOhmsMin, because: 'a short is below' },
    ),
    weighObservation(facts, {
      id: 'cable_reads_open',
      direction: 'against',
      code: 'control_cable_reads_open',
      weight: 'indicative',
    }),
    // A short between R and C, or behind the called wire, would have pulled this voltage down.
    weighLimit(
      {
        id: 'call_stands',
        statement: 'The cooling call stands at the indoor board with its full voltage.',
        direction: 'against',
        weight: 'indicative',
      },
      measuredAt(facts, 'board_cooling_call', 'voltage'),
      {
        label: 'Cooling call at the indoor board',
        metWhen: 'above',
        limit: controlVoltsMin,
        because: 'a call has at least',
      },
    ),
  ];
}

function whenSeenOnPhoto(facts: Facts): Condition {
  const damaged = whenObserved(facts, 'control_wire_damaged');
  const isWordAlone =
    damaged.state === 'holds' && observed(facts, 'control_wire_damaged')?.hasPhoto === false;
  return isWordAlone
    ? { ...damaged, state: 'unknown', says: `${damaged.says} Take a photo of it.` }
    : damaged;
}

/** The damage may be old and touch nothing: a cable that was measured sound is not the short. */
function whenCableIsNotCleared(facts: Facts): Condition {
  const sound = whenCableIsSound(facts);
  return sound.state === 'holds' ? { ...sound, state: 'fails' } : { ...sound, state: 'holds' };
}

function whenFuseIsOpen(facts: Facts): Condition {
  return anyOf('Pull the control fuse and test it.', [
    whenObserved(facts, 'control_fuse_reads_open'),
    whenFed(facts, 'control_fuse'),
  ]);
}
