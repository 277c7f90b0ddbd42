import type { Facts } from '../../facts/admit-evidence.ts';
import { compressorRunningAmps } from '../../facts/compressor-amps.ts';
import { compressorToGround, toGroundOhms } from '../../facts/compressor-to-ground.ts';
import { lastLook } from '../../facts/last-look.ts';
import { measuredFrom, readingsAt, settle, show } from '../../facts/measured.ts';
import { latestInstant } from '../../facts/measured-near.ts';
import type { Weighed } from '../../verdicts/verdict.ts';
import { type Provided, weighLimit } from '../../verdicts/weigh-limit.ts';
import { weighObservation } from '../../verdicts/weigh-observation.ts';
import { type Condition, weighTogether } from '../../verdicts/weigh-together.ts';
import { whenObserved } from '../../verdicts/when-observed.ts';
import { outdoorKinds } from '../../words/kinds.ts';
import { cautions, openCircuitCautions } from '../cautions.ts';
import { nothingRunsOutdoors } from '../expectations.ts';
import type { Fault } from '../fault.ts';
import { replaceCompressor } from './replace-compressor.ts';
import { replaceOutdoorUnit } from './replace-outdoor-unit.ts';
import { ampsVerdict } from './when-locked-amps.ts';
import { windingsMeasured } from './windings-measured.ts';

export const compressorGrounded = {
  name: 'Compressor grounded',
  explanation:
    'A compressor is the pump of the cooling system, driven by an electric motor sealed inside it. When the insulation of that motor breaks down, current leaks into the metal shell: the breaker trips, at once or as soon as the damage has grown. It cannot be opened for repair.',
  partOfSystem: 'compressor',
  role: 'cause',
  kinds: outdoorKinds,
  dear: true,
  cautions: [
    cautions.lockOut,
    cautions.storedCharge,
    cautions.compressorTerminals,
    ...openCircuitCautions,
    'Take the leads off and dry the terminals first: water, dirt and a grounded fan or wire read low too. Liquid refrigerant and a hot shell lower the reading of a sound compressor.',
    'Never use an insulation tester while the compressor is in a vacuum.',
  ],
  exclusions: [
    {
      statement:
        'Its windings were measured too, with the leads off: a grounded fan or wire reads low through them.',
      doneWhen: windingsMeasured,
    },
  ],
  remedies: [...replaceCompressor, ...replaceOutdoorUnit],
  rules: { criteria: weighGround },
  settledBy: ['measure_compressor_to_ground', 'measure_compressor_windings'],
  perThousand: 5,
  expects: {
    ...nothingRunsOutdoors,
    breaker_found_tripped: 0.9,
    breaker_trips_again: 0.93,
    breaker_holds_under_load: 0.04,
    line_volts: { none: 0.85 },
    disconnect_volts: { none: 0.8 },
    compressor_to_ground: { grounded: 0.97 },
    compressor_to_ground_reads_open: 0.02,
    contactor_by_hand_both_start: 0.03,
  },
} as const satisfies Fault;

function weighGround(facts: Facts): Weighed[] {
  const measured = compressorToGround(facts);
  const label = 'Compressor terminals to ground';
  return [
    weighLimit(
      {
        id: 'grounded',
        statement: 'The insulation to ground is below 100,000 ohm.',
        direction: 'for',
        weight: 'decisive',
      },
      measured,
      {
        label,
        metWhen: 'below',
        limit: toGroundOhms.grounded,
        because: 'broken down is below',
        provided: notDrawingAsItRuns(facts),
      },
    ),
    weighLimit(
      {
        id: 'insulation_low',
        statement: 'The insulation to ground is below a megohm.',
        direction: 'for',
        weight: 'indicative',
      },
      measured,
      { label, metWhen: 'below', limit: toGroundOhms.doubtful, because: 'doubtful is below' },
    ),
    weighLimit(
      {
        id: 'insulation_sound',
        statement: 'An insulation tester shows more than two megohms to ground.',
        direction: 'against',
        weight: 'decisive',
      },
      byInsulationTester(facts),
      { label, metWhen: 'above', limit: toGroundOhms.sound, because: 'sound is above' },
    ),
    // A few volts of a multimeter do not break down what 240 V does.
    weighObservation(facts, {
      id: 'reads_open_to_ground',
      direction: 'against',
      code: 'compressor_to_ground_reads_open',
      weight: 'indicative',
    }),
    weighTogether(
      {
        id: 'runs',
        statement: 'The compressor runs, and its breaker has not tripped since.',
        direction: 'against',
        weight: 'decisive',
      },
      whenRunsOn(facts),
      [],
    ),
  ];
}

/** It may have run until the insulation gave way; then its breaker tripped after it was seen. */
function whenRunsOn(facts: Facts): Condition {
  const runs = whenObserved(facts, 'compressor_running');
  const trippedMs = Math.max(
    lastLook(facts, 'breaker_trips_again', 'yes'),
    lastLook(facts, 'breaker_found_tripped', 'yes'),
  );
  if (runs.state !== 'holds' || trippedMs <= lastLook(facts, 'compressor_running')) return runs;
  return { ...runs, state: 'fails', says: 'It ran, and its breaker has tripped since.' };
}

/** A current between none and locked rotor is that of a rotor that turns, unless it stood later. */
function notDrawingAsItRuns(facts: Facts): Provided[] {
  const running = compressorRunningAmps(facts);
  const verdict = ampsVerdict(facts, running);
  const turns = verdict === 'normal' || verdict === 'above_rla';
  if (running.kind !== 'settled' || !turns) return [];
  const { readingIds } = running.measured;
  const drawnAt = latestInstant(facts, { readingIds, observationIds: [] });
  const stoodMs = lastLook(facts, 'compressor_running', 'no');
  return [
    {
      holds: drawnAt !== undefined && stoodMs >= Date.parse(drawnAt),
      otherwise: `${show(running.measured)} is what one that runs draws; record whether it runs`,
      readingIds,
    },
  ];
}

function byInsulationTester(facts: Facts) {
  const readings = readingsAt(facts, 'compressor_to_ground', 'resistance');
  return settle(readings.filter(({ method }) => method === 'insulation_tester').map(measuredFrom));
}
