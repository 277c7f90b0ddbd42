import type { Nameplate } from '../../evidence.ts';
import type { Facts } from '../../facts/admit-evidence.ts';
import { compressorToGround, toGroundOhms } from '../../facts/compressor-to-ground.ts';
import { measuredAt } from '../../facts/measured.ts';
import { latestInstant } from '../../facts/measured-near.ts';
import { supplyLimits } from '../../facts/supply-limits.ts';
import type { Weighed } from '../../verdicts/verdict.ts';
import { weighObservation } from '../../verdicts/weigh-observation.ts';
import { type Condition, weighTogether } from '../../verdicts/weigh-together.ts';
import { whenMeasured } from '../../verdicts/when-measured.ts';
import { whenObserved } from '../../verdicts/when-observed.ts';
import { contactorKinds } from '../../words/kinds.ts';
import { cautions } from '../cautions.ts';
import { whenStallAmps } from '../compressor/when-locked-amps.ts';
import { whenRested } from '../compressor/when-rested.ts';
import { whenContactsClose } from '../contactor/when-contacts-close.ts';
import { everythingRuns } from '../expectations.ts';
import type { Fault } from '../fault.ts';
import { sections } from './sections.ts';
import { whenSectionSound } from './when-section-sound.ts';
import { withoutStartWinding } from './without-start-winding.ts';

export const hardStartingCompressor = {
  name: 'Hard-starting compressor',
  explanation:
    'A compressor that is worn, or that starts against high pressure, can need more push than its run capacitor gives, although everything around it is sound. A start device adds that push for the first moment of each start. It helps no compressor that starts by itself, and none that has failed.',
  partOfSystem: 'capacitor',
  role: 'cause',
  kinds: contactorKinds,
  dear: false,
  cautions: [
    cautions.lockOut,
    cautions.storedCharge,
    cautions.liveMeasurement,
    cautions.compressorTerminals,
    'A compressor that reads to ground is never started, not for a test either.',
  ],
  exclusions: [
    {
      statement:
        'The run capacitor of the compressor was measured: a weak one makes a sound compressor start hard.',
      doneWhen: [
        { point: 'capacitor_herm', quantity: 'capacitance' },
        { point: 'capacitor_herm', quantity: 'voltage' },
      ],
    },
    {
      statement:
        'The line voltage at the unit was measured: a low one makes a sound compressor start hard.',
      doneWhen: [{ point: 'line_supply', quantity: 'voltage' }],
    },
    {
      statement:
        'The compressor was measured to ground: a grounded one is never started once more.',
      doneWhen: [
        { point: 'compressor_to_ground', quantity: 'resistance' },
        { observation: 'compressor_to_ground_reads_open', answers: ['yes'] },
      ],
    },
  ],
  remedies: [
    {
      task: 'add_start_device',
      remedyClass: 'accessory',
      needs: 'proven',
      partCategories: ['start_device'],
    },
  ],
  rules: { unfit: withoutUse, criteria: weighHardStart },
  settledBy: [
    'measure_capacitor',
    'measure_line_voltage',
    'measure_compressor_to_ground',
    'measure_contactor_poles',
    'look_at_line_connections',
    'let_compressor_cool',
    'try_test_start_device',
  ],
  perThousand: 6,
  expects: {
    ...everythingRuns,
    compressor_running: 0.3,
    compressor_hums: 0.5,
    compressor_stops_on_overload: 0.65,
    compressor_starts_with_test_start_device: 0.95,
    capacitor_herm: { failed: 0.01, weak: 0.02, fine: 0.97 },
    compressor_amps: { none: 0.3, normal: 0.15, high: 0.1, locked: 0.45 },
    compressor_windings: { fine: 0.98 },
    compressor_to_ground: { fine: 0.99 },
    contactor_by_hand_both_start: 0.1,
    split: { low: 0.9 },
  },
} as const satisfies Fault;

function withoutUse(nameplate: Nameplate): string | undefined {
  return nameplate.compressorMotor === 'csr'
    ? 'the compressor has a start device already: look whether that one has failed'
    : withoutStartWinding(nameplate);
}

function weighHardStart(facts: Facts): Weighed[] {
  const helped = whenObserved(facts, 'compressor_starts_with_test_start_device');
  const sound = whenSectionSound(facts, sections.herm);
  const stalling = whenStalling(facts);
  return [
    weighTogether(
      {
        id: 'starts_only_with_help',
        statement:
          'Rested and well fed, with a sound run capacitor and no ground, the compressor stalls by itself and starts with a test start device.',
        direction: 'for',
        weight: 'decisive',
      },
      helped,
      [
        stalling,
        whenRested(facts, instantMs(facts, stalling)),
        sound,
        ...whenWellFed(facts),
        whenNotGrounded(facts),
        // A fan that stands overheats the compressor until it stops on its overload, whatever starts it.
        whenObserved(facts, 'outdoor_fan_running'),
        ...whenContactsClose(facts),
        whenObserved(facts, 'line_connection_burnt', 'no'),
      ],
    ),
    weighObservation(facts, {
      id: 'starts_with_test_device',
      direction: 'for',
      code: 'compressor_starts_with_test_start_device',
      weight: 'indicative',
    }),
    capacitorAtFault(sound),
    weighObservation(facts, {
      id: 'test_device_does_not_help',
      statement: 'With a start device held in for a test the compressor does not start either.',
      direction: 'against',
      code: 'compressor_starts_with_test_start_device',
      answer: 'no',
      weight: 'decisive',
    }),
  ];
}

/** A run capacitor at fault explains a hard start; it is replaced first, then it is tried again. */
function capacitorAtFault(sound: Condition): Weighed {
  const state = sound.state === 'holds' ? 'fails' : sound.state === 'fails' ? 'holds' : 'unknown';
  return weighTogether(
    {
      id: 'run_capacitor_at_fault',
      statement: 'The run capacitor of the compressor is at fault; that alone makes it start hard.',
      direction: 'against',
      weight: 'indicative',
    },
    { ...sound, state },
    [],
  );
}

/**
 * It only hums, or it draws what only a rotor that stands draws. That its overload stops it is no
 * sign of this: heat from a dirty coil or a slow fan stops one that starts well, and by the time
 * somebody tries a start device it has cooled.
 */
function whenStalling(facts: Facts): Condition {
  const hums = whenObserved(facts, 'compressor_hums');
  const amps = whenStallAmps(facts);
  return hums.state === 'holds' || amps.readingIds.length === 0 ? hums : amps;
}

function instantMs(facts: Facts, sign: Condition): number {
  const instant = latestInstant(facts, sign);
  return instant === undefined ? Number.NEGATIVE_INFINITY : Date.parse(instant);
}

function whenWellFed(facts: Facts): Condition[] {
  const supply = measuredAt(facts, 'line_supply', 'voltage');
  const limits = supplyLimits(facts);
  const what = 'line voltage at the unit';
  return [
    whenMeasured(supply, what, 'above', limits?.low),
    ...(limits?.high === undefined ? [] : [whenMeasured(supply, what, 'below', limits.high)]),
  ];
}

function whenNotGrounded(facts: Facts): Condition {
  const ohms = compressorToGround(facts);
  return ohms.kind === 'none'
    ? whenObserved(facts, 'compressor_to_ground_reads_open')
    : whenMeasured(ohms, 'compressor to ground', 'above', toGroundOhms.doubtful);
}
