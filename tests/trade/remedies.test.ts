import { describe, expect, test } from 'vitest';
import {
  faultCatalog,
  findFault,
  handlesRefrigerant,
  installsEquipment,
  remedyFor,
  taskCodeSchema,
  taskWords,
} from '../../src/trade/index.ts';

describe('the remedy class comes from the catalog', () => {
  const rows = [
    ['run_capacitor_herm', 'replace_dual_run_capacitor', 'replace'],
    ['run_capacitor_herm', 'replace_compressor_run_capacitor', 'replace'],
    ['run_capacitor_fan', 'replace_dual_run_capacitor', 'replace'],
    ['run_capacitor_fan', 'replace_fan_run_capacitor', 'replace'],
    ['worn_contactor', 'replace_contactor', 'replace'],
    ['tripped_breaker', 'reset_breaker', 'reset'],
    ['tripped_breaker', 'trace_breaker_trip', 'diagnose'],
    ['open_float_switch', 'reset_float_switch', 'reset'],
    ['plugged_drain', 'clear_condensate_drain', 'clean'],
    ['open_control_fuse', 'replace_control_fuse', 'reset'],
    ['open_control_fuse', 'trace_control_short', 'diagnose'],
    ['failed_float_switch', 'replace_float_switch', 'replace'],
    ['failed_condensate_pump', 'replace_condensate_pump', 'replace'],
    ['cracked_drain_pan', 'replace_drain_pan', 'replace'],
    ['run_capacitor_blower', 'replace_blower_run_capacitor', 'replace'],
    ['failed_start_device', 'replace_start_device', 'replace'],
    ['hard_starting_compressor', 'add_start_device', 'accessory'],
    ['failed_outdoor_fan_motor', 'replace_outdoor_fan_motor', 'replace'],
    ['seized_blower', 'replace_blower_motor', 'replace'],
    ['failed_blower_motor', 'replace_blower_motor', 'replace'],
    ['failed_blower_module', 'replace_blower_module', 'replace'],
    ['weak_breaker', 'advise_electrician', 'advise'],
    ['wrong_breaker_size', 'advise_electrician', 'advise'],
    ['low_supply_voltage', 'advise_utility', 'advise'],
    ['low_supply_voltage', 'advise_electrician', 'advise'],
    ['open_disconnect', 'restore_disconnect', 'reset'],
    ['open_disconnect_fuse', 'replace_disconnect_fuses', 'reset'],
    ['open_disconnect_fuse', 'trace_disconnect_fuse', 'diagnose'],
    ['burnt_line_connection', 'remake_line_connection', 'repair'],
    ['burnt_line_connection', 'advise_electrician', 'advise'],
    ['stuck_contactor', 'replace_contactor', 'replace'],
    ['thermostat_set_wrong', 'set_thermostat', 'reset'],
    ['dead_thermostat_batteries', 'replace_thermostat_batteries', 'reset'],
    ['failed_thermostat', 'replace_thermostat', 'replace'],
    ['control_short', 'repair_control_wiring', 'repair'],
    ['broken_control_wire', 'repair_control_wiring', 'repair'],
    ['failed_transformer', 'replace_transformer', 'replace'],
    ['overloaded_transformer', 'replace_transformer', 'replace'],
    ['failed_indoor_board', 'replace_indoor_board', 'replace'],
    ['failed_outdoor_board', 'replace_outdoor_board', 'replace'],
    ['open_high_pressure_switch', 'trace_pressure_trip', 'diagnose'],
    ['failed_sensor', 'replace_sensor', 'replace'],
    ['compressor_open_winding', 'replace_compressor', 'replace'],
    ['compressor_open_winding', 'replace_outdoor_unit', 'replace'],
    ['compressor_grounded', 'replace_compressor', 'replace'],
    ['compressor_grounded', 'replace_outdoor_unit', 'replace'],
    ['compressor_locked', 'replace_compressor', 'replace'],
    ['compressor_locked', 'replace_outdoor_unit', 'replace'],
    ['compressor_weak_valves', 'replace_compressor', 'replace'],
    ['compressor_overload_open', 'trace_overload', 'diagnose'],
    ['stuck_reversing_valve', 'replace_reversing_valve', 'replace'],
    ['failed_reversing_valve_coil', 'replace_reversing_valve_coil', 'replace'],
    ['failed_defrost_control', 'replace_defrost_board', 'replace'],
    ['dirty_filter', 'replace_filter', 'replace'],
    ['dirty_indoor_coil', 'clean_indoor_coil', 'clean'],
    ['dirty_blower_wheel', 'clean_blower_wheel', 'clean'],
    ['closed_registers', 'open_registers', 'adjust'],
    ['restricted_ducts', 'repair_duct', 'repair'],
    ['restricted_ducts', 'advise_duct_work', 'advise'],
    ['iced_coil', 'trace_icing', 'diagnose'],
    ['low_charge', 'add_refrigerant', 'adjust'],
    ['low_charge', 'renew_charge', 'adjust'],
    ['overcharge', 'remove_refrigerant', 'adjust'],
    ['overcharge', 'renew_charge', 'adjust'],
    ['refrigerant_leak', 'search_leak', 'diagnose'],
    ['refrigerant_leak', 'repair_leak', 'repair'],
    ['liquid_line_restriction', 'replace_filter_drier', 'replace'],
    ['failed_metering_device', 'replace_metering_device', 'replace'],
    ['loose_sensing_bulb', 'refasten_sensing_bulb', 'adjust'],
    ['dirty_outdoor_coil', 'clean_outdoor_coil', 'clean'],
    ['wrong_refrigerant', 'renew_charge', 'adjust'],
  ] as const;
  test.each(rows)('%s, %s: %s', (fault, task, remedyClass) => {
    expect(remedyFor(fault, task)?.remedyClass).toBe(remedyClass);
  });

  test('nothing else is in the catalog', () => {
    const pairs = faultCatalog.flatMap((fault) =>
      fault.remedies.map((each) => [fault.code, each.task]),
    );
    expect(pairs.map(String).sort()).toEqual(rows.map((row) => `${row[0]},${row[1]}`).sort());
  });

  test('a task that no fault calls for has no remedy, so it cannot be sold under it', () => {
    expect(remedyFor('tripped_breaker', 'replace_contactor')).toBeUndefined();
    expect(remedyFor('run_capacitor_herm', 'reset_breaker')).toBeUndefined();
    expect(remedyFor('no_such_fault', 'reset_breaker')).toBeUndefined();
  });
});

describe('a reset can never be made a repair', () => {
  test('a task that restores is a reset under every fault it appears in, and no other task is', () => {
    for (const fault of faultCatalog) {
      for (const remedy of fault.remedies) {
        const isReset = remedy.remedyClass === 'reset';
        expect(isReset, `${fault.code}, ${remedy.task}`).toBe(taskWords[remedy.task].restores);
      }
    }
  });

  test('what trips, opens, blows, is pulled, runs empty or is set wrong is restored, not repaired', () => {
    const restoring = taskCodeSchema.options.filter((task) => taskWords[task].restores);
    expect(restoring.sort()).toEqual([
      'replace_control_fuse',
      'replace_disconnect_fuses',
      'replace_thermostat_batteries',
      'reset_breaker',
      'reset_float_switch',
      'restore_disconnect',
      'set_thermostat',
    ]);
  });

  test('every state that something else brought about is a symptom that says so', () => {
    const symptoms = faultCatalog.filter((fault) => fault.role === 'symptom');
    expect(symptoms.map((fault) => fault.code).sort()).toEqual([
      'compressor_overload_open',
      'dead_thermostat_batteries',
      'iced_coil',
      'open_control_fuse',
      'open_disconnect',
      'open_disconnect_fuse',
      'open_float_switch',
      'open_high_pressure_switch',
      'thermostat_set_wrong',
      'tripped_breaker',
    ]);
    for (const fault of symptoms) {
      expect(fault.notTheCause).toContain('not the cause');
      expect(fault.causeSearch.lookFor).not.toBe('');
    }
  });

  test('a symptom offers nothing but resets and the search for its cause', () => {
    for (const fault of faultCatalog.filter((each) => each.role === 'symptom')) {
      const classes = fault.remedies.map((remedy) => remedy.remedyClass);
      expect(classes.filter((each) => each !== 'reset' && each !== 'diagnose')).toEqual([]);
    }
  });
});

test('a dear part is sold on proof only', () => {
  for (const fault of faultCatalog.filter((each) => each.dear)) {
    expect(fault.remedies.filter((remedy) => remedy.needs !== 'proven')).toEqual([]);
    expect(fault.exclusions).not.toEqual([]);
  }
});

describe('a whole new machine', () => {
  const installing = faultCatalog.flatMap((fault) =>
    fault.remedies
      .filter(({ task }) => installsEquipment(task))
      .map((remedy) => ({ fault, remedy })),
  );

  test('is a remedy of a dead compressor alone: not of weak valves, a leak or a search', () => {
    expect(installing.map(({ fault }) => fault.code).sort()).toEqual([
      'compressor_grounded',
      'compressor_locked',
      'compressor_open_winding',
    ]);
  });

  test('is never the only way: a repair of the same fault stands before it', () => {
    for (const { fault } of installing) {
      const [first] = fault.remedies;
      expect(first && !installsEquipment(first.task), fault.code).toBe(true);
    }
  });

  test('asks for proof with everything else excluded, for its unit and for the certificate', () => {
    for (const { fault, remedy } of installing) {
      expect(remedy).toMatchObject({ needs: 'proven', remedyClass: 'replace' });
      expect(remedy.partCategories).toContain('outdoor_unit');
      expect(fault.exclusions).not.toEqual([]);
      expect(handlesRefrigerant(remedy.task)).toBe(true);
    }
  });

  test('stands outdoors by itself: never in place of a package unit or a mini split', () => {
    for (const { fault, remedy } of installing) {
      expect(remedy.kinds).toEqual(['condensing_unit', 'heat_pump']);
      expect(fault.kinds).toEqual(expect.arrayContaining([...(remedy.kinds ?? [])]));
    }
  });
});

test('every fault explains itself to a customer without a trade word left unexplained', () => {
  for (const fault of faultCatalog) {
    expect(fault.explanation.length).toBeGreaterThan(60);
    expect(fault.explanation).not.toMatch(/\b(uF|microfarad|HERM|OL|VAC|PSC|RLA|LRA)\b/);
    expect(fault.cautions).not.toEqual([]);
    expect(fault.remedies).not.toEqual([]);
  }
});

test('every task is a remedy of some fault', () => {
  const used = new Set(faultCatalog.flatMap((fault) => fault.remedies.map((each) => each.task)));
  expect(taskCodeSchema.options.filter((task) => !used.has(task))).toEqual([]);
});

test('an unknown fault is not found', () => {
  expect(findFault('no_such_fault')).toBeUndefined();
  expect(findFault('plugged_drain')?.role).toBe('cause');
});
