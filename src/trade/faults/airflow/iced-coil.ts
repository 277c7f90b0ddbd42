import type { Facts } from '../../facts/admit-evidence.ts';
import type { Weighed } from '../../verdicts/verdict.ts';
import { type Condition, weighTogether } from '../../verdicts/weigh-together.ts';
import { whenObserved } from '../../verdicts/when-observed.ts';
import { indoorCoilKinds } from '../../words/kinds.ts';
import { everythingRuns } from '../expectations.ts';
import type { Fault } from '../fault.ts';

export const icedCoil = {
  name: 'Ice on the indoor coil',
  explanation:
    'When the coil indoors grows colder than freezing, the water it draws out of the air turns to ice on it. The ice blocks the air, and the house stops cooling. With the cooling off and the fan on it melts within hours; what made the coil so cold is a separate question.',
  partOfSystem: 'airflow',
  role: 'symptom',
  notTheCause:
    'The ice is not the cause: something makes the coil too cold, most often too little air or too little refrigerant.',
  causeSearch: {
    lookFor:
      'Look for what lets it freeze. Air first: filter, registers, coil, blower and its wheel, ducts. Whether it cooled through a cold night. Then, with no ice left, charge, filter drier and metering device.',
    recordedBy: [{ observation: 'ice_cause_looked_for', answers: ['yes'] }],
  },
  kinds: indoorCoilKinds,
  dear: false,
  cautions: [
    'Never chip ice off a coil: fins and tubes tear. Cooling off, fan on, and wait; it can take hours.',
    'Do not judge the charge by pressures while ice is on the coil.',
    'Catch the water, and keep it off the electrical parts.',
  ],
  exclusions: [],
  remedies: [
    { task: 'trace_icing', remedyClass: 'diagnose', needs: 'supported', partCategories: [] },
  ],
  rules: { criteria: weighIce },
  settledBy: ['look_for_ice'],
  perThousand: 10,
  expects: {
    ...everythingRuns,
    ice_on_coil_or_line: 0.98,
    split: { low: 0.5, high: 0.35 },
    suction: { low: 0.9 },
    head: { low: 0.5, fine: 0.48 },
    superheat: { low: 0.6 },
    indoor_coil_drop: { high: 0.8 },
    external_static: { high: 0.5 },
    metering_device_frosted: 0.2,
    compressor_running: 0.92,
  },
} as const satisfies Fault;

function weighIce(facts: Facts): Weighed[] {
  return [
    weighTogether(
      {
        id: 'seen',
        statement: 'There was ice on the indoor coil or the suction line.',
        direction: 'for',
        weight: 'decisive',
      },
      whenIceSeen(facts),
      [],
    ),
    weighTogether(
      {
        id: 'never_seen',
        statement: 'There was no ice on the indoor coil or the suction line.',
        direction: 'against',
        weight: 'decisive',
      },
      whenNeverSeen(facts),
      [],
    ),
  ];
}

/** Ice melts: once seen it was there, whatever a later look shows. */
function whenIceSeen(facts: Facts): Condition {
  const seen = sightings(facts);
  const latest = whenObserved(facts, 'ice_on_coil_or_line');
  if (seen.length === 0 || latest.state === 'holds') return latest;
  return {
    ...latest,
    state: 'holds',
    says: 'There was ice on the indoor coil or the suction line; it has melted since.',
    observationIds: seen,
  };
}

function whenNeverSeen(facts: Facts): Condition {
  const clear = whenObserved(facts, 'ice_on_coil_or_line', 'no');
  return sightings(facts).length === 0 ? clear : { ...clear, state: 'fails' };
}

function sightings({ observations }: Facts): string[] {
  return observations
    .filter(({ code, answer }) => code === 'ice_on_coil_or_line' && answer === 'yes')
    .map(({ id }) => id);
}
