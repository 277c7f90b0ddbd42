import type { Facts } from '../../facts/admit-evidence.ts';
import type { Weighed } from '../../verdicts/verdict.ts';
import { weighObservation } from '../../verdicts/weigh-observation.ts';
import { weighTogether } from '../../verdicts/weigh-together.ts';
import { whenObserved } from '../../verdicts/when-observed.ts';
import { outdoorKinds } from '../../words/kinds.ts';
import { sections } from '../capacitor/sections.ts';
import { cautions } from '../cautions.ts';
import { everythingRuns } from '../expectations.ts';
import type { Fault } from '../fault.ts';
import { weighFanMotor } from '../weigh-fan-motor.ts';

export const failedOutdoorFanMotor = {
  name: 'Failed outdoor fan motor',
  explanation:
    'A motor turns the fan of the outdoor unit, which blows the heat of the house away. When its winding burns through or its bearings seize, the fan stands still or turns too slowly; the outdoor unit then overheats and its compressor shuts itself off.',
  partOfSystem: 'outdoor_fan',
  role: 'cause',
  kinds: outdoorKinds,
  dear: true,
  cautions: [
    cautions.lockOut,
    cautions.storedCharge,
    cautions.liveMeasurement,
    'A fan that stands still may start by itself: keep hands out of it until it is locked out.',
  ],
  exclusions: [
    {
      statement: 'The voltage at the fan motor was measured: without it no motor runs.',
      doneWhen: [{ point: 'outdoor_fan_supply', quantity: 'voltage' }],
    },
    {
      statement:
        'Its run capacitor was measured, or its winding read open, or its shaft was found seized: a dead capacitor stops a sound motor.',
      doneWhen: [
        { point: 'capacitor_fan', quantity: 'capacitance' },
        { point: 'capacitor_fan', quantity: 'current' },
        { observation: 'outdoor_fan_winding_reads_open', answers: ['yes'] },
        { observation: 'outdoor_fan_turns_freely', answers: ['no'] },
      ],
    },
    {
      statement: 'The fan was turned by hand: a blocked blade stops a sound motor.',
      doneWhen: [{ observation: 'outdoor_fan_turns_freely', answers: ['yes', 'no'] }],
    },
  ],
  remedies: [
    {
      task: 'replace_outdoor_fan_motor',
      remedyClass: 'replace',
      needs: 'proven',
      partCategories: ['outdoor_fan_motor'],
    },
  ],
  rules: { criteria: weighOutdoorFanMotor },
  settledBy: [
    'spin_outdoor_fan',
    'measure_capacitor',
    'measure_outdoor_fan',
    'measure_outdoor_fan_winding',
  ],
  perThousand: 25,
  expects: {
    ...everythingRuns,
    outdoor_fan_running: 0.05,
    outdoor_fan_hums: 0.35,
    outdoor_fan_turns_freely: 0.6,
    outdoor_fan_blade_blocked: 0.01,
    outdoor_fan_winding_reads_open: 0.4,
    outdoor_fan_amps: { none: 0.55, high: 0.4 },
    outdoor_fan_volts: { fine: 0.97 },
    capacitor_fan: { failed: 0.02, fine: 0.93 },
    contactor_by_hand_both_start: 0.04,
    compressor_running: 0.6,
    compressor_stops_on_overload: 0.4,
    high_pressure_switch_open: 0.15,
    head: { high: 0.9 },
    split: { low: 0.9 },
  },
} as const satisfies Fault;

function weighOutdoorFanMotor(facts: Facts): Weighed[] {
  const { fanMotor, capacitorFanUf, fanFlaAmps } = facts.equipment.nameplate;
  // Only a PSC motor has a run capacitor; what no plate tells is never guessed.
  const isPsc = (fanMotor ?? (capacitorFanUf === undefined ? undefined : 'psc')) === 'psc';
  return [
    ...weighFanMotor(facts, {
      name: 'outdoor fan motor',
      isPsc,
      running: 'outdoor_fan_running',
      hums: 'outdoor_fan_hums',
      turnsFreely: 'outdoor_fan_turns_freely',
      windingOpen: 'outdoor_fan_winding_reads_open',
      lead: 'outdoor_fan_lead',
      supply: 'outdoor_fan_supply',
      winding: 'outdoor_fan_winding',
      section: sections.fan,
      fullLoadAmps: fanFlaAmps,
    }),
    ...(isPsc ? [seized(facts)] : []),
    weighObservation(facts, {
      id: 'hard_to_turn',
      statement: 'With the power off the outdoor fan does not turn freely by hand.',
      direction: 'for',
      code: 'outdoor_fan_turns_freely',
      answer: 'no',
      weight: 'indicative',
    }),
    weighObservation(facts, {
      id: 'both_motors_start_by_hand',
      direction: 'against',
      code: 'contactor_by_hand_both_start',
      weight: 'indicative',
    }),
  ];
}

/**
 * Leaves, a bent guard or a slipped blade stop a sound motor too, so somebody must have looked. An
 * ECM is stiff by its magnets, and braked when its electronics are shorted.
 */
function seized(facts: Facts): Weighed {
  const stands = whenObserved(facts, 'outdoor_fan_running', 'no');
  const seen = stands.state === 'unknown' ? [] : [stands];
  return weighTogether(
    {
      id: 'seized',
      statement: 'The fan does not turn freely by hand and nothing blocks its blade.',
      direction: 'for',
      weight: 'decisive',
    },
    whenObserved(facts, 'outdoor_fan_turns_freely', 'no'),
    [whenObserved(facts, 'outdoor_fan_blade_blocked', 'no'), ...seen],
  );
}
