import { deadVoltsMax } from '../../electrical/control-volts.ts';
import type { Facts } from '../../facts/admit-evidence.ts';
import { type Measured, measuredAt, show } from '../../facts/measured.ts';
import { isObserved, observed } from '../../facts/observed.ts';
import { compareWithLimit } from '../../uncertainty/compare-with-limit.ts';
import type { DrawnMeasurement, Weighed } from '../../verdicts/verdict.ts';
import { type Decision, weighMeasurement } from '../../verdicts/weigh-measurement.ts';
import { weighObservation } from '../../verdicts/weigh-observation.ts';
import { contactorKinds } from '../../words/kinds.ts';
import { cautions } from '../cautions.ts';
import { everythingRuns } from '../expectations.ts';
import type { Fault } from '../fault.ts';
import { withoutContactor } from './without-contactor.ts';

export const stuckContactor = {
  name: 'Stuck contactor',
  explanation:
    'A contactor is the heavy switch that connects the outdoor unit to power. When its contacts weld together or it jams, the outdoor unit keeps running after the thermostat is satisfied: it wastes power, ices the indoor coil and wears out the compressor.',
  partOfSystem: 'contactor',
  role: 'cause',
  kinds: contactorKinds,
  dear: false,
  cautions: [
    'The outdoor unit does not stop at the thermostat: switch it off at the disconnect or the breaker.',
    cautions.lockOut,
    cautions.storedCharge,
    cautions.liveMeasurement,
  ],
  exclusions: [
    {
      statement:
        'The voltage at its coil was measured: one that never goes away keeps a sound contactor closed.',
      doneWhen: [{ point: 'contactor_coil', quantity: 'voltage' }],
    },
  ],
  remedies: [
    {
      task: 'replace_contactor',
      remedyClass: 'replace',
      needs: 'supported',
      partCategories: ['contactor'],
    },
  ],
  rules: { unfit: withoutContactor, criteria: weighStuck },
  settledBy: ['measure_contactor_coil'],
  perThousand: 4,
  expects: {
    ...everythingRuns,
    thermostat_calling_cooling: 0.6,
    indoor_fan_running: 0.6,
    contactor_stays_closed_without_call: 0.97,
    contactor_pulled_in: 0.98,
    contactor_coil_volts: { none: 0.5, fine: 0.48 },
    contactor_contacts_pitted: 0.5,
    contactor_drop: { high: 0.05, raised: 0.2 },
    compressor_running: 0.9,
    compressor_stops_on_overload: 0.08,
    ice_on_coil_or_line: 0.5,
    outdoor_call_volts: { none: 0.4 },
  },
} as const satisfies Fault;

function weighStuck(facts: Facts): Weighed[] {
  return [
    weighMeasurement(
      {
        id: 'closed_without_voltage',
        statement: 'It stays closed and no voltage is measured at its coil.',
        direction: 'for',
        weight: 'decisive',
      },
      measuredAt(facts, 'contactor_coil', 'voltage'),
      (measured) => decideClosed(facts, measured),
    ),
    weighObservation(facts, {
      id: 'stays_closed',
      direction: 'for',
      code: staysClosedCode,
      weight: 'indicative',
    }),
    weighObservation(facts, {
      id: 'lets_go',
      statement: 'Without voltage at its coil the contactor opens.',
      direction: 'against',
      code: staysClosedCode,
      answer: 'no',
      weight: 'decisive',
    }),
    weighObservation(facts, {
      id: 'found_open',
      statement: 'The contactor was found open: it does not stick every time.',
      direction: 'against',
      code: 'contactor_pulled_in',
      answer: 'no',
      weight: 'indicative',
    }),
  ];
}

const staysClosedCode = 'contactor_stays_closed_without_call';

/** That it is pulled in may have been seen during a call: only that it stays so counts. */
function decideClosed(facts: Facts, measured: Measured): Decision {
  const { value, unit, uncertainty } = measured;
  const measurement: DrawnMeasurement = {
    label: 'Voltage at the coil',
    value,
    unit,
    uncertainty,
    high: deadVoltsMax,
  };
  const detail = `${show(measured)} at the coil; a dead one shows less than ${deadVoltsMax} V`;
  const side = compareWithLimit(measured, deadVoltsMax);
  if (side === 'above') {
    return { outcome: 'not_met', detail: `${detail}: it is fed.`, measurement };
  }
  const staysClosed = observed(facts, staysClosedCode);
  if (staysClosed === undefined) {
    const isOpen = isObserved(facts, 'contactor_pulled_in', 'no');
    return isOpen
      ? { outcome: 'not_met', detail: `${detail}; it is open.`, measurement }
      : { outcome: 'undecided', detail: `${detail}; record whether it stays closed.`, measurement };
  }
  const isClosed = staysClosed.answer === 'yes';
  return {
    outcome: !isClosed ? 'not_met' : side === 'below' ? 'met' : 'undecided',
    detail: `${detail}; it ${isClosed ? 'stays closed' : 'opens'}.`,
    measurement,
    observationIds: staysClosed.ids,
  };
}
