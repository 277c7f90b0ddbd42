import type { Nameplate } from '../../evidence.ts';
import { contactorKinds } from '../../words/kinds.ts';
import { cautions } from '../cautions.ts';
import { everythingRuns } from '../expectations.ts';
import type { Fault } from '../fault.ts';
import { sections } from './sections.ts';
import { weighSection } from './weigh-section.ts';

export const runCapacitorFan = {
  name: 'Weak or failed run capacitor, fan section',
  explanation:
    'A run capacitor gives the outdoor fan motor the push it needs to start and to keep its speed. One that is out of its limits makes the fan turn too slowly or not at all, so that the outdoor unit overheats. It is a small part that wears out with heat and age.',
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
      task: 'replace_fan_run_capacitor',
      remedyClass: 'replace',
      needs: 'supported',
      partCategories: ['run_capacitor'],
    },
  ],
  rules: { unfit: fanWithoutCapacitor, criteria: (facts) => weighSection(facts, sections.fan) },
  settledBy: ['measure_capacitor'],
  perThousand: 60,
  expects: {
    ...everythingRuns,
    outdoor_fan_running: 0.1,
    outdoor_fan_hums: 0.7,
    compressor_running: 0.6,
    compressor_stops_on_overload: 0.4,
    capacitor_fan: { failed: 0.85, weak: 0.13 },
    capacitor_fan_bulged_or_leaking: 0.45,
    contactor_by_hand_both_start: 0.05,
    outdoor_fan_turns_freely: 0.97,
    outdoor_fan_volts: { fine: 0.98 },
    outdoor_fan_amps: { none: 0.5, fine: 0.1, high: 0.4 },
    high_pressure_switch_open: 0.15,
    head: { high: 0.9 },
    split: { low: 0.9 },
  },
} as const satisfies Fault;

function fanWithoutCapacitor(nameplate: Nameplate): string | undefined {
  return nameplate.fanMotor === 'ecm' ? 'an ECM fan motor has no run capacitor' : undefined;
}
