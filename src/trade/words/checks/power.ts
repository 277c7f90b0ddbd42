import type { CheckWords } from './check.ts';

/** Line voltage, from the panel to the machine. Minutes: common practice, no source. */
export const powerChecks = {
  measure_line_voltage: {
    ask: 'Measure the line voltage at the unit.',
    minutes: 3,
    care: 'live',
    on: 'any',
    observations: [],
    readings: ['line_supply.voltage'],
  },
  measure_disconnect: {
    ask: 'Measure the line side of the disconnect.',
    minutes: 2,
    care: 'live',
    on: 'any',
    observations: [],
    readings: ['disconnect_line_side.voltage'],
  },
  test_disconnect_fuses: {
    ask: 'Test the fuses of the disconnect.',
    minutes: 3,
    care: 'power_off',
    on: 'any',
    observations: ['disconnect_fuse_reads_open'],
    readings: [],
  },
  test_breaker_under_load: {
    ask: 'Reset once, run everything, measure across the breaker and read its marking.',
    minutes: 8,
    care: 'live',
    on: 'any',
    observations: ['breaker_holds_under_load', 'breaker_trips_again'],
    readings: ['breaker.voltage', 'breaker_marking.current'],
  },
  look_at_line_connections: {
    ask: 'Switch off and look at every line connection.',
    minutes: 4,
    care: 'power_off',
    on: 'any',
    observations: ['line_connection_burnt'],
    readings: [],
  },
  measure_line_connections: {
    ask: 'Measure across the line connections with the unit running.',
    minutes: 4,
    care: 'live',
    on: 'any',
    observations: [],
    readings: ['line_connection.voltage'],
  },
} as const satisfies Record<string, CheckWords>;
