import type { Nameplate } from '../../evidence.ts';
import type { Facts } from '../../facts/admit-evidence.ts';
import { blowerPlate } from '../../facts/blower-plate.ts';
import { measuredAt, show } from '../../facts/measured.ts';
import { seenSince } from '../../verdicts/last-interruption.ts';
import type { Weighed } from '../../verdicts/verdict.ts';
import { weighObservation } from '../../verdicts/weigh-observation.ts';
import { type Condition, weighTogether } from '../../verdicts/weigh-together.ts';
import { whenObserved } from '../../verdicts/when-observed.ts';
import { blowerKinds } from '../../words/kinds.ts';
import { cautions } from '../cautions.ts';
import { everythingRuns } from '../expectations.ts';
import type { Fault } from '../fault.ts';
import { whenFed } from '../weigh-fan-motor.ts';

export const failedBlowerModule = {
  name: 'Failed control module of the blower',
  explanation:
    'A blower with a speed-controlled motor carries a small electronic module that drives the motor. When the module fails, the blower stands still although it has power and is told to run: no air comes out of the registers, and the coil can ice over.',
  partOfSystem: 'blower',
  role: 'cause',
  kinds: blowerKinds,
  dear: true,
  cautions: [
    cautions.lockOut,
    'The module keeps a charge for minutes after the power is off: wait five before unplugging it.',
    cautions.liveMeasurement,
  ],
  exclusions: [
    {
      statement: 'The voltage at the blower motor was measured: without it no module runs.',
      doneWhen: [{ point: 'blower_supply', quantity: 'voltage' }],
    },
    {
      statement:
        'A test signal was given in place of the board: a missing call or a broken wire stops a sound module.',
      doneWhen: [{ observation: 'blower_module_test_runs_motor', answers: ['no'] }],
    },
    {
      statement:
        'The winding was measured with the module off: a failed motor stops a sound module.',
      doneWhen: [
        { observation: 'blower_winding_reads_open', answers: ['no'] },
        { point: 'blower_winding', quantity: 'resistance' },
      ],
    },
  ],
  remedies: [
    {
      task: 'replace_blower_module',
      remedyClass: 'replace',
      needs: 'proven',
      partCategories: ['blower_module'],
    },
  ],
  rules: { unfit: motorWithoutModule, criteria: weighModule },
  settledBy: ['measure_blower', 'test_blower_module', 'spin_blower', 'measure_blower_winding'],
  perThousand: 10,
  expects: {
    ...everythingRuns,
    indoor_fan_running: 0.08,
    blower_hums: 0.02,
    blower_wheel_turns_freely: 0.85,
    blower_winding_reads_open: 0.03,
    blower_called_and_fed: 0.97,
    blower_module_test_runs_motor: 0.03,
    blower_amps: { none: 0.92, high: 0.03 },
    blower_volts: { fine: 0.97 },
    board_fan_call_volts: { fine: 0.97 },
    ice_on_coil_or_line: 0.4,
    suction: { low: 0.9 },
  },
} as const satisfies Fault;

function motorWithoutModule(nameplate: Nameplate): string | undefined {
  return blowerPlate(nameplate).motor === 'psc' ? 'a PSC blower motor has no module' : undefined;
}

/**
 * Fed and dead to a test signal, it is the module or the motor behind it; the module alone is proven
 * only with a motor whose winding is not open and whose wheel is free, since a shorted winding
 * brakes its magnets.
 */
function weighModule(facts: Facts): Weighed[] {
  const tested = whenObserved(facts, 'blower_module_test_runs_motor', 'no');
  const motor = {
    name: 'blower motor',
    supply: 'blower_supply',
    saidFed: 'blower_called_and_fed',
  } as const;
  // A signal given while the breaker was off runs no sound module.
  const fed = whenFed(facts, motor, tested);
  const deadToSignal = seenSince(facts, 'blower_module_test_runs_motor', 'no', [fed]);
  const saidFed = whenObserved(facts, 'blower_called_and_fed');
  const free = whenObserved(facts, 'blower_wheel_turns_freely');
  return [
    weighTogether(
      {
        id: 'dead_to_test_signal',
        statement:
          'Fed, with a free wheel and a sound winding, the blower does not run on a test signal.',
        direction: 'for',
        weight: 'decisive',
      },
      deadToSignal,
      [fed, free, whenWindingSound(facts)],
    ),
    weighTogether(
      {
        id: 'module_or_motor',
        statement: 'Fed, the blower does not run on a test signal: it is its module or its motor.',
        direction: 'for',
        weight: 'indicative',
      },
      deadToSignal,
      [fed],
    ),
    weighTogether(
      {
        id: 'called_and_stands',
        statement: 'The blower has its line voltage and its call and does not run.',
        direction: 'for',
        weight: 'indicative',
      },
      seenSince(facts, 'indoor_fan_running', 'no', [saidFed]),
      [saidFed],
    ),
    weighObservation(facts, {
      id: 'runs_on_test_signal',
      statement:
        'With a test signal the blower runs: look at the board and the wires that give its call.',
      direction: 'against',
      code: 'blower_module_test_runs_motor',
      weight: 'decisive',
    }),
    weighObservation(facts, {
      id: 'winding_open',
      direction: 'against',
      code: 'blower_winding_reads_open',
      weight: 'indicative',
    }),
    weighObservation(facts, {
      id: 'runs',
      direction: 'against',
      code: 'indoor_fan_running',
      weight: 'decisive',
    }),
  ];
}

/** A meter that shows a figure shows no open winding. */
function whenWindingSound(facts: Facts): Condition {
  const settled = measuredAt(facts, 'blower_winding', 'resistance');
  const said = whenObserved(facts, 'blower_winding_reads_open', 'no');
  if (said.state !== 'unknown' || settled.kind !== 'settled') return said;
  const { measured } = settled;
  return {
    state: 'holds',
    says: `${show(measured)}, winding of the blower motor.`,
    readingIds: measured.readingIds,
    observationIds: [],
    readingsDisagree: false,
  };
}
