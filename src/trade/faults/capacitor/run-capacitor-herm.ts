import type { Nameplate } from '../../evidence.ts';
import { contactorKinds } from '../../words/kinds.ts';
import { cautions } from '../cautions.ts';
import { everythingRuns } from '../expectations.ts';
import type { Fault } from '../fault.ts';
import { sections } from './sections.ts';
import { weighSection } from './weigh-section.ts';

export const runCapacitorHerm = {
  name: 'Weak or failed run capacitor, compressor section',
  explanation:
    'A run capacitor gives the compressor motor the push it needs to start and to run without overheating. One that is out of its limits makes the compressor struggle, overheat or not start at all. It is a small part that wears out with heat and age.',
  partOfSystem: 'capacitor',
  role: 'cause',
  kinds: contactorKinds,
  dear: false,
  cautions: [cautions.lockOut, cautions.storedCharge, cautions.liveMeasurement],
  exclusions: [],
  remedies: [
    {
      task: 'replace_dual_run_capacitor',
      remedyClass: 'replace',
      needs: 'supported',
      partCategories: ['dual_run_capacitor'],
    },
    {
      task: 'replace_compressor_run_capacitor',
      remedyClass: 'replace',
      needs: 'supported',
      partCategories: ['run_capacitor'],
    },
  ],
  rules: {
    unfit: compressorWithoutCapacitor,
    criteria: (facts) => weighSection(facts, sections.herm),
  },
  settledBy: ['measure_capacitor'],
  perThousand: 190,
  expects: {
    capacitor_herm: { failed: 0.85, weak: 0.13 },
    capacitor_herm_bulged_or_leaking: 0.45,
    compressor_starts_with_test_start_device: 0.8,
    outdoor_fan_running: 0.95,
    outdoor_fan_amps: { fine: 0.95 },
    split: { low: 0.95 },
  },
  scenes: [
    {
      share: 0.75,
      expects: {
        ...everythingRuns,
        compressor_running: 0.04,
        compressor_hums: 0.6,
        compressor_stops_on_overload: 0.5,
        compressor_amps: { none: 0.45, normal: 0.03, high: 0.12, locked: 0.4 },
        contactor_by_hand_both_start: 0.04,
      },
    },
    {
      share: 0.25,
      expects: {
        ...everythingRuns,
        compressor_stops_on_overload: 0.3,
        compressor_amps: { none: 0.05, normal: 0.5, high: 0.42 },
        contactor_by_hand_both_start: 0.5,
      },
    },
  ],
} as const satisfies Fault;

function compressorWithoutCapacitor(nameplate: Nameplate): string | undefined {
  if (nameplate.compressorMotor === 'inverter') {
    return 'the compressor is driven by an inverter and has no run capacitor';
  }
  const threePhase = nameplate.compressorMotor === 'three_phase' || nameplate.phase === 3;
  return threePhase ? 'a three-phase compressor has no run capacitor' : undefined;
}
