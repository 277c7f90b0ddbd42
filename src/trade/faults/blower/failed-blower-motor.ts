import type { Nameplate } from '../../evidence.ts';
import type { Facts } from '../../facts/admit-evidence.ts';
import { blowerPlate } from '../../facts/blower-plate.ts';
import type { Weighed } from '../../verdicts/verdict.ts';
import { blowerKinds } from '../../words/kinds.ts';
import { sections } from '../capacitor/sections.ts';
import { cautions } from '../cautions.ts';
import { everythingRuns } from '../expectations.ts';
import type { Fault } from '../fault.ts';
import { weighFanMotor } from '../weigh-fan-motor.ts';

export const failedBlowerMotor = {
  name: 'Failed blower motor',
  explanation:
    'A motor turns the blower that moves the air of the house through the cooling coil. When its winding burns through, the blower stands still although it has power: no air comes out of the registers, and the coil can ice over.',
  partOfSystem: 'blower',
  role: 'cause',
  kinds: blowerKinds,
  dear: true,
  cautions: [cautions.lockOut, cautions.storedCharge, cautions.liveMeasurement],
  exclusions: [
    {
      statement: 'The voltage at the blower motor was measured: without it no motor runs.',
      doneWhen: [{ point: 'blower_supply', quantity: 'voltage' }],
    },
    {
      statement:
        'Its run capacitor was measured, or its winding read open: a dead capacitor stops a sound motor.',
      doneWhen: [
        { point: 'capacitor_blower', quantity: 'capacitance' },
        { point: 'capacitor_blower', quantity: 'current' },
        { observation: 'blower_winding_reads_open', answers: ['yes'] },
      ],
    },
    {
      statement: 'The wheel was turned by hand: a blocked wheel stops a sound motor.',
      doneWhen: [{ observation: 'blower_wheel_turns_freely', answers: ['yes', 'no'] }],
    },
  ],
  remedies: [
    {
      task: 'replace_blower_motor',
      remedyClass: 'replace',
      needs: 'proven',
      partCategories: ['blower_motor'],
    },
  ],
  rules: { unfit: motorWithModule, criteria: weighBlowerMotor },
  settledBy: [
    'spin_blower',
    'measure_blower',
    'measure_blower_capacitor',
    'measure_blower_winding',
  ],
  perThousand: 15,
  expects: {
    ...everythingRuns,
    indoor_fan_running: 0.06,
    blower_hums: 0.3,
    blower_wheel_turns_freely: 0.95,
    blower_winding_reads_open: 0.5,
    blower_called_and_fed: 0.97,
    blower_amps: { none: 0.55, high: 0.35 },
    blower_volts: { fine: 0.97 },
    board_fan_call_volts: { fine: 0.97 },
    capacitor_blower: { fine: 0.92 },
    ice_on_coil_or_line: 0.4,
    suction: { low: 0.9 },
  },
} as const satisfies Fault;

function motorWithModule(nameplate: Nameplate): string | undefined {
  return blowerPlate(nameplate).motor === 'ecm'
    ? 'an ECM blower is driven by its module, and is judged with it'
    : undefined;
}

function weighBlowerMotor(facts: Facts): Weighed[] {
  const { motor, fullLoadAmps } = blowerPlate(facts.equipment.nameplate);
  return weighFanMotor(facts, {
    name: 'blower motor',
    isPsc: motor === 'psc',
    running: 'indoor_fan_running',
    hums: 'blower_hums',
    turnsFreely: 'blower_wheel_turns_freely',
    windingOpen: 'blower_winding_reads_open',
    lead: 'blower_lead',
    supply: 'blower_supply',
    winding: 'blower_winding',
    saidFed: 'blower_called_and_fed',
    section: sections.blower,
    fullLoadAmps,
  });
}
