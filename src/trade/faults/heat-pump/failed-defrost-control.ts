import { controlVoltsMin } from '../../electrical/control-volts.ts';
import type { Facts } from '../../facts/admit-evidence.ts';
import { measuredAt } from '../../facts/measured.ts';
import { sensorDeviation } from '../../facts/sensor-deviation.ts';
import type { Weighed } from '../../verdicts/verdict.ts';
import { weighObservation } from '../../verdicts/weigh-observation.ts';
import { weighTogether } from '../../verdicts/weigh-together.ts';
import { whenMeasured } from '../../verdicts/when-measured.ts';
import { whenObserved } from '../../verdicts/when-observed.ts';
import { cautions } from '../cautions.ts';
import { everythingRuns } from '../expectations.ts';
import type { Fault } from '../fault.ts';

/** A sensor further off its table than this misleads the board; common practice, no source. */
const sensorPercentMax = 10;

/** A board starts no defrost, forced or not, while its coil is warmer than ice; common practice, no source. */
const coilDegFMax = 32;

export const failedDefrostControl = {
  name: 'Failed defrost control',
  explanation:
    'A heat pump that heats on a cold day gathers frost on its outdoor coil, and a control board melts it off from time to time by turning the system round for some minutes. When the board no longer does so, the coil turns to ice and the heating fades.',
  partOfSystem: 'heat_pump',
  role: 'cause',
  kinds: ['heat_pump'],
  dear: true,
  cautions: [
    cautions.lockOut,
    cautions.liveMeasurement,
    'Melt ice with water or by forcing the cooling mode, never with a tool: a coil is pierced at once.',
  ],
  exclusions: [
    {
      statement:
        'The temperature sensor of the coil was measured: a wrong one keeps a sound board waiting.',
      doneWhen: [{ point: 'coil_sensor', quantity: 'resistance' }],
    },
    {
      statement: 'The reversing valve was switched: one that stays lets no defrost start.',
      doneWhen: [{ observation: 'reversing_valve_shifts', answers: ['yes', 'no'] }],
    },
  ],
  remedies: [
    {
      task: 'replace_defrost_board',
      remedyClass: 'replace',
      needs: 'proven',
      partCategories: ['defrost_board'],
    },
  ],
  rules: { criteria: weighDefrost },
  settledBy: ['force_defrost', 'look_at_outdoor_coil'],
  perThousand: 2,
  expects: {
    ...everythingRuns,
    outdoor_coil_iced_in_heating: 0.92,
    defrost_starts_when_forced: 0.1,
    reversing_valve_shifts: 0.97,
    coil_sensor: { fine: 0.97 },
  },
} as const satisfies Fault;

function weighDefrost(facts: Facts): Weighed[] {
  const stays = whenObserved(facts, 'defrost_starts_when_forced', 'no');
  return [
    weighTogether(
      {
        id: 'forced_without_effect',
        statement:
          'Fed, with its coil below freezing, a sound sensor and a valve that shifts, the board starts no defrost when it is forced.',
        direction: 'for',
        weight: 'decisive',
      },
      stays,
      [
        whenMeasured(
          measuredAt(facts, 'outdoor_cooling_call', 'voltage'),
          'call at the outdoor unit',
          'above',
          controlVoltsMin,
        ),
        whenMeasured(
          measuredAt(facts, 'coil_sensor', 'temperature'),
          'coil at the sensor',
          'below',
          coilDegFMax,
        ),
        whenMeasured(
          sensorDeviation(facts, 'coil_sensor'),
          'coil sensor against its table',
          'below',
          sensorPercentMax,
        ),
        whenObserved(facts, 'reversing_valve_shifts'),
        whenObserved(facts, 'compressor_running'),
      ],
    ),
    weighTogether(
      {
        id: 'no_forced_defrost',
        statement: 'A defrost that is forced at the board does not start.',
        direction: 'for',
        weight: 'indicative',
      },
      stays,
      [],
    ),
    weighObservation(facts, {
      id: 'coil_iced',
      direction: 'for',
      code: 'outdoor_coil_iced_in_heating',
      weight: 'indicative',
    }),
    weighObservation(facts, {
      id: 'defrost_starts',
      direction: 'against',
      code: 'defrost_starts_when_forced',
      weight: 'indicative',
    }),
  ];
}
