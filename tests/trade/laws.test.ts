import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  currentEvidenceRuleset,
  type Evidence,
  evidenceRulesets,
  type FaultCode,
  faultCodeSchema,
  observationCodeSchema,
  observationWords,
  type Verdict,
} from '../../src/trade/index.ts';
import {
  airHandler,
  amps,
  microfarads,
  ohms,
  outdoorUnit,
  running,
  type Sign,
  saw,
  volts,
} from './make-evidence.ts';

const ruleset = evidenceRulesets[currentEvidenceRuleset];

const anySign: fc.Arbitrary<Sign> = fc.oneof(
  fc
    .tuple(
      fc.constantFrom(...observationCodeSchema.options),
      fc.constantFrom('yes', 'no', 'unknown'),
      fc.constantFrom({}, { photoSha256: 'b'.repeat(64) }),
      fc.integer({ min: 0, max: 5 }),
    )
    .map(([code, answer, photo, minute]) => saw(code, answer, { ...photo, at: at(minute) })),
  fc
    .tuple(
      fc.constantFrom<(value: number, minute: number) => Sign>(
        (value, minute) => amps('capacitor_herm', value / 6, { takenAt: at(minute) }),
        (value, minute) => volts('capacitor_herm', value * 7, { takenAt: at(minute) }),
        (value, minute) => microfarads('capacitor_herm', value, { takenAt: at(minute) }),
        (value, minute) => microfarads('capacitor_fan', value / 10, { takenAt: at(minute) }),
        (value, minute) => volts('contactor_pole_1', value / 15, { takenAt: at(minute) }),
        (value, minute) => volts('contactor_pole_2', value / 99, { takenAt: at(minute) }),
        (value, minute) => volts('contactor_coil', value / 2, { takenAt: at(minute) }),
        (value, minute) => volts('float_switch_in', value / 2, { takenAt: at(minute) }),
        (value, minute) => volts('float_switch_out', value / 2, { takenAt: at(minute) }),
        (value, minute) => volts('control_fuse', value / 2, { takenAt: at(minute) }),
        (value, minute) => ohms('control_fuse', value / 20, { takenAt: at(minute) }),
        (value, minute) => volts('line_supply', value * 4, { takenAt: at(minute) }),
      ),
      fc.double({ min: 0, max: 60, noNaN: true }),
      fc.integer({ min: 0, max: 5 }),
    )
    .map(([make, value, minute]) => make(value, minute)),
);
const anySigns = fc.array(anySign, { maxLength: 12 });
const anyUnit = fc.constantFrom(outdoorUnit, (signs: Sign[]) => airHandler(signs));
const anyFault = fc.constantFrom(...faultCodeSchema.options);

// How far each standing speaks for the fault.
const strength: Record<Verdict['standing'], number> = {
  not_applicable: 0,
  contradicted: 0,
  unproven: 1,
  supported: 2,
  proven: 3,
};

describe('a lower measured capacitance never weakens the standing of a weak capacitor', () => {
  const rated = fc.double({ min: 15, max: 100, noNaN: true });
  const tolerance = fc.constantFrom(3, 5, 6, 10, 15, undefined);
  const two = fc.tuple(
    fc.double({ min: 0, max: 1, noNaN: true }),
    fc.double({ min: 0, max: 1, noNaN: true }),
  );

  test('measured with the leads off', () => {
    fc.assert(
      fc.property(rated, tolerance, two, (ratedUf, tolerancePercent, [a, b]) => {
        const stands = (share: number) =>
          strengthOf([microfarads('capacitor_herm', ratedUf * share)], ratedUf, tolerancePercent);
        expect(stands(Math.min(a, b))).toBeGreaterThanOrEqual(stands(Math.max(a, b)));
      }),
      { numRuns: 2000 },
    );
  });

  // Below the display's own noise no current flows and nothing was measured: the law starts above.
  test('measured under load, wherever the meter can tell the current from none', () => {
    fc.assert(
      fc.property(rated, tolerance, two, (ratedUf, tolerancePercent, [a, b]) => {
        const ratedAmps = (370 * 2 * Math.PI * 60 * ratedUf) / 1e6;
        const stands = (share: number) => {
          const current = 0.04 + (ratedAmps - 0.04) * share;
          return strengthOf(running('capacitor_herm', current, 370), ratedUf, tolerancePercent);
        };
        expect(stands(Math.min(a, b))).toBeGreaterThanOrEqual(stands(Math.max(a, b)));
      }),
      { numRuns: 2000 },
    );
  });

  function strengthOf(
    signs: Sign[],
    ratedUf: number,
    tolerancePercent: number | undefined,
  ): number {
    const evidence = outdoorUnit(signs, {
      capacitorHermUf: ratedUf,
      capacitorTolerancePercent: tolerancePercent,
    });
    return strength[ruleset.weigh('run_capacitor_herm', evidence).standing];
  }
});

test('what is reported never changes a verdict, nor what is left behind, nor an unknown', () => {
  const spoil = fc.constantFrom<(sign: Sign) => Sign>(
    (sign) => change(sign, { source: 'reported' }, { source: 'reported' }),
    (sign) => change(sign, { phase: 'left' }, { phase: 'left' }),
    (sign) => change(sign, { equipmentId: 'unit-9' }, seenElsewhere(sign)),
    (sign) => change(sign, { value: 1e9 }, { answer: 'unknown' }),
  );
  // What is seen of the house is the same on whichever machine it was noted.
  const seenElsewhere = (sign: Sign) =>
    'observation' in sign && observationWords[sign.observation.code].about === 'house'
      ? ({ answer: 'unknown' } as const)
      : { equipmentId: 'unit-9' };
  fc.assert(
    fc.property(anyUnit, anySigns, anySign, spoil, (make, signs, extra, spoilIt) => {
      expect(ruleset.assess(make([...signs, spoilIt(extra)]))).toEqual(ruleset.assess(make(signs)));
    }),
    { numRuns: 1000 },
  );
});

test('the order in which readings and observations were written down changes nothing', () => {
  const shuffled = anySigns.chain((signs) => {
    const { readings, observations } = outdoorUnit(signs);
    return fc.tuple(
      fc.constant(outdoorUnit(signs)),
      fc.shuffledSubarray(readings, { minLength: readings.length }),
      fc.shuffledSubarray(observations, { minLength: observations.length }),
    );
  });
  fc.assert(
    fc.property(shuffled, ([evidence, readings, observations]) => {
      expect(ruleset.assess({ ...evidence, readings, observations })).toEqual(
        ruleset.assess(evidence),
      );
    }),
    { numRuns: 1000 },
  );
});

test('another indicative sign for a fault never lowers it while nothing speaks against it', () => {
  const indicativeSigns: [FaultCode, Sign][] = [
    ['run_capacitor_herm', saw('capacitor_herm_bulged_or_leaking', 'yes', { at: at(9) })],
    ['run_capacitor_fan', saw('capacitor_fan_bulged_or_leaking', 'yes', { at: at(9) })],
    ['worn_contactor', saw('contactor_contacts_pitted', 'yes', { at: at(9) })],
    ['tripped_breaker', volts('line_supply', 0.1, { takenAt: at(9) })],
    ['plugged_drain', saw('drain_pan_full', 'yes', { at: at(9) })],
    ['open_float_switch', saw('float_switch_raised', 'yes', { at: at(9) })],
    ['open_control_fuse', saw('control_fuse_seen_blown', 'yes', { at: at(9) })],
    ['failed_float_switch', saw('float_switch_moves_freely', 'no', { at: at(9) })],
    ['failed_condensate_pump', saw('condensate_pump_runs_when_filled', 'no', { at: at(9) })],
    ['cracked_drain_pan', saw('drain_pan_cracked', 'yes', { at: at(9) })],
    ['run_capacitor_blower', saw('capacitor_blower_bulged_or_leaking', 'yes', { at: at(9) })],
    ['failed_start_device', saw('start_device_burnt', 'yes', { at: at(9) })],
    [
      'hard_starting_compressor',
      saw('compressor_starts_with_test_start_device', 'yes', { at: at(9) }),
    ],
    ['failed_outdoor_fan_motor', saw('outdoor_fan_winding_reads_open', 'yes', { at: at(9) })],
    ['seized_blower', saw('blower_wheel_turns_freely', 'no', { at: at(9) })],
    ['failed_blower_motor', saw('blower_winding_reads_open', 'yes', { at: at(9) })],
    ['failed_blower_module', saw('indoor_fan_running', 'no', { at: at(9) })],
    ['weak_breaker', saw('breaker_hot_or_buzzing', 'yes', { at: at(9) })],
    ['wrong_breaker_size', amps('breaker_marking', 60, { method: 'marking', takenAt: at(9) })],
    ['low_supply_voltage', volts('line_supply', 181, { takenAt: at(9) })],
    ['open_disconnect', saw('disconnect_found_open', 'yes', { at: at(9) })],
    ['open_disconnect_fuse', saw('disconnect_fuse_reads_open', 'yes', { at: at(9) })],
    ['burnt_line_connection', saw('line_connection_burnt', 'yes', { at: at(9) })],
    ['stuck_contactor', saw('contactor_stays_closed_without_call', 'yes', { at: at(9) })],
    ['thermostat_set_wrong', saw('thermostat_set_wrong', 'yes', { at: at(9) })],
    ['dead_thermostat_batteries', saw('thermostat_low_battery_shown', 'yes', { at: at(9) })],
    ['failed_thermostat', saw('thermostat_jumper_starts_cooling', 'yes', { at: at(9) })],
    ['control_short', saw('control_wire_damaged', 'yes', { at: at(9) })],
    ['broken_control_wire', saw('control_wire_damaged', 'yes', { at: at(9) })],
    ['failed_transformer', volts('transformer_secondary', 0.1, { takenAt: at(9) })],
    ['overloaded_transformer', amps('transformer_secondary', 15, { takenAt: at(9) })],
    ['failed_indoor_board', saw('board_burnt', 'yes', { at: at(9) })],
    ['failed_outdoor_board', volts('outdoor_board_out', 0.1, { takenAt: at(9) })],
    ['open_high_pressure_switch', saw('high_pressure_switch_open', 'yes', { at: at(9) })],
    ['failed_sensor', saw('controller_reports_sensor_fault', 'yes', { at: at(9) })],
    ['compressor_open_winding', saw('compressor_run_to_start_reads_open', 'yes', { at: at(9) })],
    ['compressor_grounded', ohms('compressor_to_ground', 400_000, { takenAt: at(9) })],
    ['compressor_locked', saw('compressor_hums', 'yes', { at: at(9) })],
    ['compressor_weak_valves', amps('compressor_common', 8, { takenAt: at(9) })],
    ['compressor_overload_open', saw('compressor_stops_on_overload', 'yes', { at: at(9) })],
    ['stuck_reversing_valve', saw('reversing_valve_shifts', 'no', { at: at(9) })],
    ['failed_reversing_valve_coil', saw('reversing_valve_coil_reads_open', 'yes', { at: at(9) })],
    ['failed_defrost_control', saw('outdoor_coil_iced_in_heating', 'yes', { at: at(9) })],
    ['dirty_filter', saw('filter_dirty', 'yes', { at: at(9) })],
    ['dirty_indoor_coil', saw('indoor_coil_dirty', 'yes', { at: at(9) })],
    ['dirty_blower_wheel', saw('blower_wheel_dirty', 'yes', { at: at(9) })],
    ['closed_registers', saw('registers_closed', 'yes', { at: at(9) })],
    ['restricted_ducts', saw('duct_blocked_or_loose', 'yes', { at: at(9) })],
    ['iced_coil', saw('ice_on_coil_or_line', 'yes', { at: at(9) })],
    ['low_charge', saw('refrigerant_oil_seen', 'yes', { at: at(9) })],
    ['overcharge', saw('outdoor_coil_dirty', 'no', { at: at(9) })],
    ['refrigerant_leak', saw('refrigerant_oil_seen', 'yes', { at: at(9) })],
    ['liquid_line_restriction', saw('compressor_running', 'yes', { at: at(9) })],
    ['failed_metering_device', saw('superheat_follows_bulb', 'no', { at: at(9) })],
    ['loose_sensing_bulb', saw('sensing_bulb_loose', 'yes', { at: at(9) })],
    ['dirty_outdoor_coil', saw('outdoor_coil_dirty', 'yes', { at: at(9) })],
    ['wrong_refrigerant', saw('wrong_refrigerant_marked', 'yes', { at: at(9) })],
  ];
  expect(new Set(indicativeSigns.map(([fault]) => fault))).toEqual(
    new Set(faultCodeSchema.options),
  );
  fc.assert(
    fc.property(anyUnit, anySigns, fc.constantFrom(...indicativeSigns), (make, signs, row) => {
      const [fault, extra] = row;
      // A second, contradicting line reading is a disagreement of readings, not one sign more.
      if ('reading' in extra)
        fc.pre(
          !signs.some((sign) => 'reading' in sign && sign.reading.point === extra.reading.point),
        );
      const before = ruleset.weigh(fault, make(signs));
      fc.pre(
        !before.criteria.some((each) => each.direction === 'against' && each.outcome === 'met'),
      );
      const after = ruleset.weigh(fault, make([...signs, extra]));
      expect(strength[after.standing]).toBeGreaterThanOrEqual(strength[before.standing]);
    }),
    { numRuns: 2000 },
  );
});

test('no verdict is proven or supported without naming what it rests on', () => {
  fc.assert(
    fc.property(anyUnit, anySigns, anyFault, (make, signs, fault) => {
      const verdict = ruleset.weigh(fault, make(signs));
      const grounds = verdict.criteria.filter(
        (each) => each.outcome === 'met' && each.direction === 'for',
      );
      const rests = grounds.every(
        (each) => each.readingIds.length + each.observationIds.length > 0,
      );
      if (verdict.standing === 'proven' || verdict.standing === 'supported') {
        expect(grounds.length).toBeGreaterThan(0);
      }
      expect(rests).toBe(true);
    }),
    { numRuns: 1000 },
  );
});

test('every fault gets its verdict in every assessment', () => {
  const codes = (evidence: Evidence) => ruleset.assess(evidence).map((each) => each.faultCode);
  expect(codes(outdoorUnit([]))).toEqual(faultCodeSchema.options);
  expect(codes(airHandler([]))).toEqual(faultCodeSchema.options);
});

function change(
  sign: Sign,
  readingFields: Partial<Extract<Sign, { reading: unknown }>['reading']>,
  observationFields: Partial<Extract<Sign, { observation: unknown }>['observation']>,
): Sign {
  if ('reading' in sign) return { reading: { ...sign.reading, ...readingFields } };
  return { observation: { ...sign.observation, ...observationFields } };
}

function at(minute: number): string {
  return `2026-07-14T15:0${minute}:00Z`;
}

test('what was seen on no machine in particular proves nothing of any', () => {
  for (const code of observationCodeSchema.options) {
    for (const answer of ['yes', 'no'] as const) {
      const evidence = outdoorUnit([saw(code, answer, { photoSha256: 'b'.repeat(64) })]);
      const observations = evidence.observations.map(({ equipmentId: _, ...rest }) => rest);
      const verdicts = ruleset.assess({ ...evidence, observations });
      const standings = verdicts.map(({ standing }) => standing);
      expect(standings, code).not.toContain('proven');
      expect(standings, code).not.toContain('supported');
    }
  }
});
