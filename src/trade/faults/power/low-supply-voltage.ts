import { judgeRunningAmps } from '../../electrical/locked-rotor.ts';
import type { Facts } from '../../facts/admit-evidence.ts';
import { breakerDropVoltsMax, connectionDropVolts, dropClass } from '../../facts/closed-drop.ts';
import { compressorRunningAmps } from '../../facts/compressor-amps.ts';
import { type Measured, measuredAt, show } from '../../facts/measured.ts';
import { observed } from '../../facts/observed.ts';
import { sideOf } from '../../facts/side-of.ts';
import { leastSupply } from '../../facts/supply-volts.ts';
import { fullLoad } from '../../facts/under-load.ts';
import type { Weighed } from '../../verdicts/verdict.ts';
import { type Provided, weighLimit } from '../../verdicts/weigh-limit.ts';
import { weighMeasurement } from '../../verdicts/weigh-measurement.ts';
import type { CriterionHead } from '../../verdicts/weigh-observation.ts';
import { fedKinds } from '../../words/kinds.ts';
import { cautions } from '../cautions.ts';
import type { Fault } from '../fault.ts';

/**
 * Below this share of the least voltage it is no weak supply any more but a lost leg, with what
 * comes back through the motors. Common practice, no source.
 */
const lostLegShare = 0.7;

export const lowSupplyVoltage = {
  name: 'Low supply voltage',
  explanation:
    'A motor needs the voltage its label asks for. With less it struggles to start, draws more current, overheats and switches itself off, mostly on hot days when everybody is cooling. The supply of the house or of the street then needs a look, not the motor.',
  partOfSystem: 'power',
  role: 'cause',
  kinds: fedKinds,
  dear: false,
  cautions: [
    cautions.liveMeasurement,
    'Leave the machine off while its supply is low: motors overheat on it.',
  ],
  exclusions: [],
  remedies: [
    { task: 'advise_utility', remedyClass: 'advise', needs: 'supported', partCategories: [] },
    { task: 'advise_electrician', remedyClass: 'advise', needs: 'supported', partCategories: [] },
  ],
  rules: { criteria: weighSupply },
  settledBy: [
    'measure_line_voltage',
    'measure_disconnect',
    'test_breaker_under_load',
    'measure_line_connections',
  ],
  perThousand: 4,
  expects: {
    line_volts: { low: 0.96 },
    disconnect_volts: { low: 0.95 },
    breaker_drop: { fine: 0.98 },
    connection_drop: { fine: 0.97 },
    breaker_found_tripped: 0.1,
    outdoor_fan_running: 0.88,
    compressor_running: 0.55,
    compressor_hums: 0.2,
    compressor_stops_on_overload: 0.4,
    compressor_amps: { none: 0.2, normal: 0.25, high: 0.4, locked: 0.15 },
    outdoor_fan_amps: { none: 0.1, fine: 0.7, high: 0.2 },
    compressor_starts_with_test_start_device: 0.4,
    contactor_by_hand_both_start: 0.6,
    contactor_pulled_in: 0.85,
    contactor_coil_volts: { low: 0.25 },
    control_volts: { low: 0.3 },
    transformer_secondary_volts: { low: 0.3 },
    split: { low: 0.75 },
  },
} as const satisfies Fault;

function weighSupply(facts: Facts): Weighed[] {
  return [
    weighLow(facts, 'disconnect_line_side', {
      id: 'low_before_the_disconnect',
      statement:
        'The voltage is below the least of the nameplate before the disconnect already, and neither breaker nor connection loses it.',
      direction: 'for',
      weight: 'decisive',
    }),
    weighLow(facts, 'line_supply', {
      id: 'low_at_the_unit',
      statement: 'The voltage at the unit is below the least of the nameplate.',
      direction: 'for',
      weight: 'indicative',
    }),
    weighEnough(facts),
  ];
}

const labels = {
  disconnect_line_side: 'Voltage before the disconnect',
  line_supply: 'Line voltage at the unit',
} as const;

function weighLow(facts: Facts, point: keyof typeof labels, head: CriterionHead): Weighed {
  const settled = measuredAt(facts, point, 'voltage');
  const least = leastSupply(facts);
  if (least === undefined) return weighMeasurement(head, settled, plateMissing);
  const isFarBelow = sideOf(settled, lostLegShare * least.volts) !== 'above';
  if (isFarBelow) return weighMeasurement(head, settled, noWeakSupply);
  const isLow = sideOf(settled, least.volts) === 'below';
  const elsewhere = point === 'disconnect_line_side' ? nothingLosesIt(facts) : [];
  return weighLimit(head, settled, {
    label: labels[point],
    metWhen: 'below',
    limit: least.volts,
    because: least.because,
    provided: isLow ? [notLocked(facts), ...elsewhere] : [],
  });
}

function noWeakSupply(measured: Measured) {
  const detail = `${show(measured)}; so little is no weak supply: look for a leg lost at a fuse, a breaker or a connection.`;
  return { outcome: 'not_met', detail } as const;
}

function plateMissing(measured: Measured) {
  const detail = `${show(measured)}; record the least voltage from the nameplate.`;
  return { outcome: 'undecided', detail } as const;
}

/** A motor that cannot start pulls the voltage down by its own current. */
function notLocked(facts: Facts): Provided {
  const hums = observed(facts, 'compressor_hums');
  const current = compressorRunningAmps(facts);
  const { compressorRlaAmps: rlaAmps, compressorLraAmps: lraAmps } = facts.equipment.nameplate;
  const isLocked =
    current.kind === 'settled' &&
    rlaAmps !== undefined &&
    judgeRunningAmps({
      amps: current.measured.value,
      uncertaintyAmps: current.measured.uncertainty,
      rlaAmps,
      lraAmps,
    }) === 'near_lra';
  return {
    holds: hums?.answer !== 'yes' && !isLocked,
    otherwise:
      'a compressor that cannot start pulls the voltage down itself: measure again without it',
    observationIds: hums?.ids ?? [],
    readingIds: isLocked ? current.measured.readingIds : [],
  };
}

/** A worn breaker or a burnt connection on the way makes a good supply look low. */
function nothingLosesIt(facts: Facts): Provided[] {
  const burnt = observed(facts, 'line_connection_burnt');
  const breaker = dropClass(facts, 'breaker', breakerDropVoltsMax);
  const connection = dropClass(facts, 'line_connection', connectionDropVolts.raised);
  return [
    {
      holds: breaker === 'fine',
      otherwise: 'measure the drop across the closed breaker under load, it may lose it',
      readingIds: idsAt(facts, 'breaker'),
    },
    {
      holds: connection === 'fine' && burnt?.answer === 'no',
      otherwise:
        'look at every line connection and measure across them under load, they may lose it',
      readingIds: idsAt(facts, 'line_connection'),
      observationIds: burnt?.ids ?? [],
    },
  ];
}

function idsAt(facts: Facts, point: 'breaker' | 'line_connection'): readonly string[] {
  const settled = measuredAt(facts, point, 'voltage');
  return settled.kind === 'settled' ? settled.measured.readingIds : [];
}

function weighEnough(facts: Facts): Weighed {
  const head: CriterionHead = {
    id: 'enough_under_load',
    statement: 'Under load the voltage at the unit is above the least of the nameplate.',
    direction: 'against',
    weight: 'decisive',
  };
  const settled = measuredAt(facts, 'line_supply', 'voltage');
  const least = leastSupply(facts);
  if (least === undefined) return weighMeasurement(head, settled, plateMissing);
  const load = fullLoad(facts);
  const provided: Provided = {
    holds: load !== undefined,
    otherwise: 'no full load is on record, and a weak supply shows only under load',
    ...load,
  };
  return weighLimit(head, settled, {
    label: labels.line_supply,
    metWhen: 'above',
    limit: least.volts,
    because: least.because,
    provided: sideOf(settled, least.volts) === 'above' ? [provided] : [],
  });
}
