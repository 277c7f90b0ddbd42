import type { Facts } from '../../facts/admit-evidence.ts';
import { chargeAgainstAskedOf, chargePercent } from '../../facts/charge-against-asked.ts';
import { meteringDeviceOf } from '../../facts/circuit-plate.ts';
import {
  headState,
  splitState,
  subcoolingState,
  suctionState,
  superheatState,
} from '../../facts/circuit-state.ts';
import { remembered } from '../../facts/remembered-for.ts';
import type { Criterion, Weighed } from '../../verdicts/verdict.ts';
import { weighLimit } from '../../verdicts/weigh-limit.ts';
import { weighPattern } from '../../verdicts/weigh-pattern.ts';
import { whenState } from '../../verdicts/when-state.ts';
import { whenAirflowNotBad } from './when-airflow.ts';
import { whenCircuitReadable } from './when-circuit-readable.ts';

/** What a low charge shows; a leak shows the same, as what is missing has leaked. */
export const lowChargeSigns = remembered((facts): Weighed[] => {
  return [lowPattern(facts), lowByChargeTest(facts)];
});

/** The charge, recovered and weighed, is below what nameplate and line set ask for. */
export function weighedLow(facts: Facts, weight: Criterion['weight']): Weighed {
  return weighLimit(
    {
      id: 'weighed_low',
      statement: 'The charge, recovered and weighed, is less than nameplate and line set ask for.',
      direction: 'for',
      weight,
    },
    chargeAgainstAskedOf(facts),
    {
      label: 'Recovered charge, of what is asked',
      metWhen: 'below',
      limit: chargePercent.low,
      because: 'with what a recovery leaves behind it is low below',
      rated: 100,
    },
  );
}

/** The readings of a charge too low; subcooling keeps it apart from a restriction. */
function lowPattern(facts: Facts): Weighed {
  return weighPattern(
    {
      id: 'low_pattern',
      statement:
        'Low subcooling together with at least two of: high superheat, low suction, low head, low air split.',
      direction: 'for',
      weight: 'indicative',
    },
    {
      keys: [whenState(subcoolingState(facts), ['low'], ['fine', 'high'])],
      others: [
        whenState(superheatState(facts), ['high'], ['low']),
        whenState(suctionState(facts), ['low'], ['high']),
        whenState(headState(facts), ['low'], ['high']),
        whenState(splitState(facts), ['low'], ['high']),
      ],
      agreeingMin: 3,
      provided: [...whenCircuitReadable(facts), whenAirflowNotBad(facts)],
    },
  );
}

/** The published charge test: a valve by its subcooling, a fixed orifice by its superheat. */
function lowByChargeTest(facts: Facts): Weighed {
  const isFixed = meteringDeviceOf(facts) === 'fixed_orifice';
  const subcooling = subcoolingState(facts);
  const superheat = superheatState(facts);
  return weighPattern(
    {
      id: 'charge_test_low',
      statement: isFixed
        ? 'The superheat is above its target and the subcooling is not high.'
        : 'The subcooling is below its target and no other reading denies it.',
      direction: 'for',
      weight: 'indicative',
    },
    {
      keys: isFixed
        ? [whenState(superheat, ['high'], ['fine', 'low'])]
        : [whenState(subcooling, ['low'], ['fine', 'high'])],
      others: [
        isFixed
          ? whenState(subcooling, ['low'], ['fine', 'high'])
          : whenState(superheat, ['high'], ['low']),
        whenState(suctionState(facts), ['low'], ['high']),
        whenState(headState(facts), ['low'], ['high']),
        whenState(splitState(facts), ['low'], ['high']),
      ],
      agreeingMin: 1,
      provided: [...whenCircuitReadable(facts), whenAirflowNotBad(facts)],
    },
  );
}
