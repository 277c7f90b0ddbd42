import type { Facts } from '../../facts/admit-evidence.ts';
import type { Settled } from '../../facts/measured.ts';
import { observed } from '../../facts/observed.ts';
import { type SensorPoint, sensorDeviation } from '../../facts/sensor-deviation.ts';
import { sideOf } from '../../facts/side-of.ts';
import type { Weighed } from '../../verdicts/verdict.ts';
import { type Provided, weighLimit } from '../../verdicts/weigh-limit.ts';
import { weighTogether } from '../../verdicts/weigh-together.ts';
import { whenMeasured } from '../../verdicts/when-measured.ts';
import { whenObserved } from '../../verdicts/when-observed.ts';
import { fedKinds } from '../../words/kinds.ts';
import type { MeasuredLabel } from '../../words/measured-labels.ts';
import { pointWords } from '../../words/points.ts';
import { cautions } from '../cautions.ts';
import type { Fault } from '../fault.ts';
import { sensorPercent } from './sensor-percent.ts';

export const failedSensor = {
  name: 'Failed temperature sensor',
  explanation:
    'A temperature sensor is a small bead whose electrical resistance follows the temperature. When it drifts or breaks, the controls believe a temperature that is not there and run the equipment at the wrong time or not at all.',
  partOfSystem: 'control',
  role: 'cause',
  kinds: fedKinds,
  dear: false,
  cautions: [cautions.lockOut, cautions.gasFurnace],
  exclusions: [],
  remedies: [
    {
      task: 'replace_sensor',
      remedyClass: 'replace',
      needs: 'supported',
      partCategories: ['sensor'],
    },
  ],
  rules: {
    criteria: (facts) => [
      ...weighReport(facts),
      ...sensors.flatMap(weighEach(facts)),
      weighFollowing(facts),
    ],
  },
  settledBy: ['measure_sensors'],
  perThousand: 4,
  expects: {
    controller_reports_sensor_fault: 0.85,
    coil_sensor: { off: 0.6 },
    air_sensor: { off: 0.5 },
    outdoor_fan_running: 0.5,
    compressor_running: 0.45,
    compressor_amps: { none: 0.5 },
    outdoor_fan_amps: { none: 0.5 },
    contactor_pulled_in: 0.5,
  },
} as const satisfies Fault;

const sensors = ['coil_sensor', 'air_sensor'] as const satisfies readonly SensorPoint[];

/** A plug that came loose is reported alike: it counts with a sensor that is off. */
function weighReport(facts: Facts): Weighed[] {
  return [
    weighTogether(
      {
        id: 'reported',
        statement: 'The controller reports a fault of a sensor, and one is off its table.',
        direction: 'for',
        weight: 'indicative',
      },
      whenObserved(facts, 'controller_reports_sensor_fault'),
      [whenMeasured(worstSensor(facts), 'worst sensor', 'above', sensorPercent.allowed)],
    ),
  ];
}

const labels = {
  coil_sensor: 'Distance of the coil temperature sensor, unplugged from its table',
  air_sensor: 'Distance of the air temperature sensor, unplugged from its table',
} as const satisfies Record<SensorPoint, MeasuredLabel>;

function weighEach(facts: Facts): (point: SensorPoint) => Weighed[] {
  return (point) => {
    const { name } = pointWords[point];
    const deviation = sensorDeviation(facts, point);
    const label = labels[point];
    const provided = point === 'air_sensor' ? [whenReported(facts)] : [];
    return [
      weighLimit(
        {
          id: `${point}_far_off`,
          statement: `The ${name} is more than ${sensorPercent.surelyOff} % off its table.`,
          direction: 'for',
          weight: isTableOf(facts, point) ? 'decisive' : 'indicative',
        },
        deviation,
        {
          label,
          metWhen: 'above',
          limit: sensorPercent.surelyOff,
          because: 'surely off is above',
          provided,
        },
      ),
      weighLimit(
        {
          id: `${point}_off`,
          statement: `The ${name} is more than ${sensorPercent.allowed} % off its table.`,
          direction: 'for',
          weight: 'indicative',
        },
        deviation,
        { label, metWhen: 'above', limit: sensorPercent.allowed, provided },
      ),
    ];
  };
}

/** What lies off the table of another sensor is nothing by itself. */
function whenReported(facts: Facts): Provided {
  const reported = observed(facts, 'controller_reports_sensor_fault');
  return {
    holds: reported?.answer === 'yes',
    otherwise: 'the table of the plate is that of the coil sensor',
    observationIds: reported?.ids ?? [],
  };
}

/**
 * The plate gives one table, that of the coil sensor; sensors of the air are often of another. Where
 * the air sensor follows it and the coil sensor does not, it may have been noted of the wrong one.
 */
function isTableOf(facts: Facts, point: SensorPoint): boolean {
  const airFollows =
    sideOf(sensorDeviation(facts, 'air_sensor'), sensorPercent.allowed) === 'below';
  return point === 'coil_sensor' && !airFollows;
}

/** A sensor that follows its table clears no other: the worst one speaks for all. */
function weighFollowing(facts: Facts): Weighed {
  return weighLimit(
    {
      id: 'follow',
      statement: 'Every sensor that was measured follows its table.',
      direction: 'against',
      weight: 'indicative',
    },
    worstSensor(facts),
    {
      label: 'Distance of the sensor from its table',
      metWhen: 'below',
      limit: sensorPercent.allowed,
    },
  );
}

function worstSensor(facts: Facts): Settled {
  let worst: Settled = { kind: 'none' };
  for (const point of sensors) {
    const deviation = sensorDeviation(facts, point);
    if (deviation.kind === 'disagree') return deviation;
    if (deviation.kind !== 'settled') continue;
    if (worst.kind !== 'settled' || deviation.measured.value > worst.measured.value) {
      worst = deviation;
    }
  }
  return worst;
}
