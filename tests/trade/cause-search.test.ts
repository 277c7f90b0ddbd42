import { expect, test } from 'vitest';
import { causeSearch, type Evidence } from '../../src/trade/index.ts';
import { airHandler, type Sign, saw } from './make-evidence.ts';

const rows = [
  ['tripped_breaker', [], 'missing'],
  ['tripped_breaker', [saw('breaker_trip_cause_looked_for')], 'recorded'],
  ['tripped_breaker', [saw('breaker_trip_cause_looked_for', 'no')], 'missing'],
  ['tripped_breaker', [saw('control_short_looked_for')], 'missing'],
  [
    'tripped_breaker',
    [saw('breaker_trip_cause_looked_for', 'yes', { source: 'reported' })],
    'missing',
  ],
  ['tripped_breaker', [saw('breaker_trip_cause_looked_for', 'yes', { phase: 'left' })], 'recorded'],
  ['open_control_fuse', [saw('control_short_looked_for')], 'recorded'],
  ['open_float_switch', [saw('drain_flows_when_tested', 'no')], 'recorded'],
  ['open_float_switch', [saw('drain_flows_when_tested')], 'recorded'],
  ['open_float_switch', [saw('float_trip_cause_looked_for')], 'recorded'],
  ['open_float_switch', [saw('drain_pan_full')], 'missing'],
  ['run_capacitor_herm', [], 'not_due'],
] as const;
test.each(rows)('a reset of %s with %j: its cause search is %s', (fault, signs, expected) => {
  expect(causeSearch(fault, observations([...signs]))).toBe(expected);
});

function observations(signs: Sign[]): Evidence['observations'] {
  return airHandler(signs).observations;
}
