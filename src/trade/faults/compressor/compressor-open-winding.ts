import type { Facts } from '../../facts/admit-evidence.ts';
import type { Weighed } from '../../verdicts/verdict.ts';
import { weighObservation } from '../../verdicts/weigh-observation.ts';
import { weighTogether } from '../../verdicts/weigh-together.ts';
import { whenObserved } from '../../verdicts/when-observed.ts';
import { contactorKinds } from '../../words/kinds.ts';
import { sections } from '../capacitor/sections.ts';
import { whenSectionSound } from '../capacitor/when-section-sound.ts';
import { cautions, openCircuitCautions } from '../cautions.ts';
import { everythingRuns } from '../expectations.ts';
import type { Fault } from '../fault.ts';
import { replaceCompressor } from './replace-compressor.ts';
import { replaceOutdoorUnit } from './replace-outdoor-unit.ts';
import { singlePhaseOnly } from './single-phase-only.ts';
import { whenOpenForHours } from './when-open-for-hours.ts';
import {
  coolShellDegFMax,
  whenCommonClosed,
  whenLeadsOff,
  whenReadAfterCooling,
  whenRunToStartClosed,
  whenRunToStartOpen,
  whenShell,
  whenWindingsAddUp,
} from './winding-conditions.ts';

export const compressorOpenWinding = {
  name: 'Open winding in the compressor',
  explanation:
    'A compressor is the pump of the cooling system, and an electric motor sealed inside it drives it. When a wire of that motor, or the switch inside it that guards against heat, stays broken, no current can flow and the motor can never run again. It cannot be opened for repair.',
  partOfSystem: 'compressor',
  role: 'cause',
  kinds: contactorKinds,
  dear: true,
  cautions: [
    cautions.lockOut,
    cautions.storedCharge,
    cautions.compressorTerminals,
    ...openCircuitCautions,
    'Measure at the terminals of the compressor itself with its leads off: a burnt plug reads open too.',
  ],
  exclusions: [
    {
      statement:
        'The compressor was left to cool, or read open from run to start: its overload opens when hot and closes by itself.',
      doneWhen: [
        { observation: 'compressor_cooled_down', answers: ['yes'] },
        { observation: 'compressor_run_to_start_reads_open', answers: ['yes'] },
      ],
    },
    {
      statement: 'The supply voltage was measured: without it no compressor runs.',
      doneWhen: [{ point: 'line_supply', quantity: 'voltage' }],
    },
  ],
  remedies: [...replaceCompressor, ...replaceOutdoorUnit],
  rules: { unfit: singlePhaseOnly, criteria: weighOpenWinding },
  settledBy: [
    'measure_compressor_windings',
    'measure_compressor_to_ground',
    'let_compressor_cool',
    'measure_capacitor',
  ],
  perThousand: 4,
  expects: {
    ...everythingRuns,
    compressor_running: 0.02,
    compressor_hums: 0.04,
    compressor_stops_on_overload: 0.02,
    compressor_amps: { none: 0.95 },
    compressor_run_to_start_reads_open: 0.85,
    compressor_common_reads_open: 0.2,
    contactor_by_hand_both_start: 0.03,
    compressor_starts_with_test_start_device: 0.02,
    capacitor_herm: { fine: 0.93 },
    split: { low: 0.97 },
  },
} as const satisfies Fault;

function weighOpenWinding(facts: Facts): Weighed[] {
  const runToStartOpen = whenRunToStartOpen(facts);
  return [
    weighTogether(
      {
        id: 'run_to_start_open',
        statement: 'At its own terminals, leads off, it reads open (OL) from run to start.',
        direction: 'for',
        weight: 'decisive',
      },
      runToStartOpen,
      [whenLeadsOff(facts)],
    ),
    weighTogether(
      {
        id: 'run_to_start_reads_open',
        statement: 'It reads open (OL) from run to start.',
        direction: 'for',
        weight: 'indicative',
      },
      runToStartOpen,
      [],
    ),
    weighTogether(
      {
        id: 'common_open_cold',
        statement:
          'Left off for hours until its shell was cool, with a sound run capacitor, it still reads open from common.',
        direction: 'for',
        weight: 'decisive',
      },
      whenObserved(facts, 'compressor_common_reads_open'),
      [
        whenReadAfterCooling(facts),
        whenShell(facts, 'below', coolShellDegFMax),
        whenOpenForHours(facts),
        whenSectionSound(facts, sections.herm),
      ],
    ),
    weighTogether(
      {
        id: 'common_open_after_cooling',
        statement: 'After it was left to cool it still reads open from common.',
        direction: 'for',
        weight: 'indicative',
      },
      whenObserved(facts, 'compressor_common_reads_open'),
      [whenReadAfterCooling(facts)],
    ),
    weighTogether(
      {
        id: 'windings_closed',
        statement: 'Current can pass between all three terminals.',
        direction: 'against',
        weight: 'decisive',
      },
      whenRunToStartClosed(facts),
      [...whenCommonClosed(facts), whenWindingsAddUp(facts)],
    ),
    weighObservation(facts, {
      id: 'runs',
      direction: 'against',
      code: 'compressor_running',
      weight: 'decisive',
    }),
  ];
}
