import type { Nameplate } from '../../evidence.ts';
import { blowerPlate } from '../../facts/blower-plate.ts';
import { boardKinds } from '../../words/kinds.ts';
import { cautions } from '../cautions.ts';
import { everythingRuns } from '../expectations.ts';
import type { Fault } from '../fault.ts';
import { sections } from './sections.ts';
import { weighSection } from './weigh-section.ts';

export const runCapacitorBlower = {
  name: 'Weak or failed run capacitor of the blower',
  explanation:
    'A run capacitor gives the motor of the indoor blower the push it needs to start and to keep its speed. One that is out of its limits lets the blower turn too slowly or not at all: little air comes out of the registers, and the coil can ice over. It is a small part that wears out with heat and age.',
  partOfSystem: 'capacitor',
  role: 'cause',
  kinds: boardKinds,
  dear: false,
  cautions: [cautions.lockOut, cautions.storedCharge, cautions.liveMeasurement],
  exclusions: [],
  remedies: [
    {
      task: 'replace_blower_run_capacitor',
      remedyClass: 'replace',
      needs: 'supported',
      partCategories: ['run_capacitor'],
    },
  ],
  rules: {
    unfit: blowerWithoutCapacitor,
    criteria: (facts) => weighSection(facts, sections.blower),
  },
  settledBy: ['measure_blower_capacitor'],
  perThousand: 12,
  expects: {
    ...everythingRuns,
    indoor_fan_running: 0.35,
    blower_hums: 0.55,
    capacitor_blower: { failed: 0.85, weak: 0.13 },
    capacitor_blower_bulged_or_leaking: 0.35,
    blower_wheel_turns_freely: 0.97,
    blower_called_and_fed: 0.97,
    blower_amps: { none: 0.1, fine: 0.4, high: 0.5 },
    blower_volts: { fine: 0.97 },
    board_fan_call_volts: { fine: 0.97 },
    ice_on_coil_or_line: 0.3,
    suction: { low: 0.8 },
  },
} as const satisfies Fault;

function blowerWithoutCapacitor(nameplate: Nameplate): string | undefined {
  return blowerPlate(nameplate).motor === 'ecm'
    ? 'an ECM blower motor has no run capacitor'
    : undefined;
}
