import type { Facts } from '../../facts/admit-evidence.ts';
import { lastLook } from '../../facts/last-look.ts';
import { measuredAt } from '../../facts/measured.ts';
import { supplyLimits } from '../../facts/supply-limits.ts';
import { seenSince } from '../../verdicts/last-interruption.ts';
import type { Weighed } from '../../verdicts/verdict.ts';
import { weighObservation } from '../../verdicts/weigh-observation.ts';
import { type Condition, weighTogether } from '../../verdicts/weigh-together.ts';
import { whenMeasured } from '../../verdicts/when-measured.ts';
import { whenObserved } from '../../verdicts/when-observed.ts';
import { contactorKinds } from '../../words/kinds.ts';
import { sections } from '../capacitor/sections.ts';
import { whenSectionSound } from '../capacitor/when-section-sound.ts';
import { cautions, openCircuitCautions } from '../cautions.ts';
import { whenContactsClose } from '../contactor/when-contacts-close.ts';
import { everythingRuns } from '../expectations.ts';
import type { Fault } from '../fault.ts';
import { replaceCompressor } from './replace-compressor.ts';
import { replaceOutdoorUnit } from './replace-outdoor-unit.ts';
import { singlePhaseOnly } from './single-phase-only.ts';
import { whenCurrentFlowed } from './when-current-flowed.ts';
import { whenLockedAmps, whenStalled } from './when-locked-amps.ts';
import { whenRested } from './when-rested.ts';
import { whenCommonClosed, whenRunToStartClosed } from './winding-conditions.ts';
import { windingsMeasured } from './windings-measured.ts';

export const compressorLocked = {
  name: 'Compressor locked',
  explanation:
    'A compressor is the pump of the cooling system. When its moving parts seize, the motor inside cannot turn: it hums, draws several times its usual current and is shut off within seconds. It cannot be opened for repair.',
  partOfSystem: 'compressor',
  role: 'cause',
  kinds: contactorKinds,
  dear: true,
  cautions: [
    cautions.lockOut,
    cautions.storedCharge,
    cautions.liveMeasurement,
    cautions.compressorTerminals,
    ...openCircuitCautions,
    'A compressor that reads to ground is never started, not for a test either.',
    'Hold a start device in for a moment only, and try it once.',
  ],
  exclusions: [
    {
      statement: 'The supply voltage was measured: a low one cannot turn a sound compressor.',
      doneWhen: [{ point: 'line_supply', quantity: 'voltage' }],
    },
    {
      statement: 'Its run capacitor was measured: a weak one cannot turn a sound compressor.',
      // Under load no capacitor can be measured while the compressor stands.
      doneWhen: [{ point: 'capacitor_herm', quantity: 'capacitance' }],
    },
    {
      statement:
        'The contactor was measured across its poles: burnt contacts starve a sound compressor.',
      doneWhen: [{ point: 'contactor_pole_1', quantity: 'voltage' }],
    },
    {
      statement: 'The line connections were looked at: a burnt one starves a sound compressor.',
      doneWhen: [{ observation: 'line_connection_burnt', answers: ['yes', 'no'] }],
    },
    {
      statement: 'Its windings were measured: with its start winding open it stalls just the same.',
      doneWhen: windingsMeasured,
    },
    {
      statement:
        'A start device was tried: it turns a compressor that is only tight or starts against pressure.',
      doneWhen: [
        { observation: 'compressor_starts_with_test_start_device', answers: ['yes', 'no'] },
      ],
    },
  ],
  remedies: [...replaceCompressor, ...replaceOutdoorUnit],
  rules: { unfit: singlePhaseOnly, criteria: weighLocked },
  settledBy: [
    'measure_capacitor',
    'measure_line_voltage',
    'measure_compressor_amps',
    'try_test_start_device',
    'measure_compressor_windings',
    'measure_contactor_poles',
    'look_at_line_connections',
    'let_compressor_cool',
    'measure_compressor_to_ground',
  ],
  perThousand: 5,
  expects: {
    ...everythingRuns,
    compressor_running: 0.02,
    compressor_hums: 0.85,
    compressor_stops_on_overload: 0.9,
    compressor_amps: { locked: 0.9, none: 0.09 },
    compressor_starts_with_test_start_device: 0.02,
    compressor_common_reads_open: 0.2,
    capacitor_herm: { fine: 0.93 },
    contactor_by_hand_both_start: 0.02,
    breaker_found_tripped: 0.2,
    breaker_trips_again: 0.2,
    split: { low: 0.97 },
  },
} as const satisfies Fault;

function weighLocked(facts: Facts): Weighed[] {
  const stalled = whenStalled(facts);
  return [
    weighTogether(
      {
        id: 'does_not_turn',
        statement:
          'Rested and well fed, with closed windings and a sound run capacitor, it goes on drawing near locked-rotor amps and does not start, not with a start device either.',
        direction: 'for',
        weight: 'decisive',
      },
      stalled,
      [
        whenStanding(
          seenSince(facts, 'compressor_running', 'no', [stalled]),
          seenSince(facts, 'compressor_hums', 'yes', [stalled]),
        ),
        whenSupplied(facts),
        ...whenContactsClose(facts),
        whenObserved(facts, 'line_connection_burnt', 'no'),
        whenSectionSound(facts, sections.herm),
        whenRunToStartClosed(facts),
        ...whenCommonClosed(facts),
        ...whenTriedInEarnest(facts, stalled),
      ],
    ),
    weighTogether(
      {
        id: 'near_locked_rotor',
        statement: 'It draws near locked-rotor amps and does not run.',
        direction: 'for',
        weight: 'indicative',
      },
      whenLockedAmps(facts),
      [
        whenStanding(
          whenObserved(facts, 'compressor_running', 'no'),
          whenObserved(facts, 'compressor_hums'),
        ),
      ],
    ),
    weighObservation(facts, {
      id: 'hums',
      direction: 'for',
      code: 'compressor_hums',
      weight: 'indicative',
    }),
    weighObservation(facts, {
      id: 'starts_with_start_device',
      direction: 'against',
      code: 'compressor_starts_with_test_start_device',
      weight: 'decisive',
    }),
    weighObservation(facts, {
      id: 'runs',
      direction: 'against',
      code: 'compressor_running',
      weight: 'decisive',
    }),
  ];
}

/** A start device was tried on a rested compressor whose overload let the current through. */
function whenTriedInEarnest(facts: Facts, stalled: Condition): Condition[] {
  const triedMs = lastLook(facts, 'compressor_starts_with_test_start_device', 'no');
  return [
    whenObserved(facts, 'compressor_starts_with_test_start_device', 'no'),
    whenCurrentFlowed(facts, stalled, triedMs),
    whenRested(facts, triedMs),
  ];
}

/** It does not run, or it only hums; one that was seen running is not locked. */
function whenStanding(stopped: Condition, humming: Condition): Condition {
  return stopped.state === 'unknown' && humming.state === 'holds' ? humming : stopped;
}

function whenSupplied(facts: Facts): Condition {
  const volts = measuredAt(facts, 'line_supply', 'voltage');
  return whenMeasured(volts, 'voltage at the unit', 'above', supplyLimits(facts)?.low);
}
