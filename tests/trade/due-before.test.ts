import { describe, expect, test } from 'vitest';
import {
  dueBefore,
  type Evidence,
  type FaultCode,
  faultCatalog,
  type ObservationCode,
  type RemedyClass,
} from '../../src/trade/index.ts';
import { airHandler, outdoorUnit, type Sign, saw, volts } from './make-evidence.ts';

/** Every fault whose cause may be traced as work of its own, and how a look for it is recorded. */
const traced: {
  fault: FaultCode;
  on: (signs: readonly Sign[]) => Evidence;
  look: ObservationCode;
}[] = [
  { fault: 'tripped_breaker', on: outdoorUnit, look: 'breaker_trip_cause_looked_for' },
  {
    fault: 'open_disconnect_fuse',
    on: outdoorUnit,
    look: 'disconnect_fuse_cause_looked_for',
  },
  { fault: 'open_control_fuse', on: airHandler, look: 'control_short_looked_for' },
  { fault: 'open_high_pressure_switch', on: outdoorUnit, look: 'pressure_trip_cause_looked_for' },
  { fault: 'compressor_overload_open', on: outdoorUnit, look: 'overload_cause_looked_for' },
  { fault: 'iced_coil', on: airHandler, look: 'ice_cause_looked_for' },
];

test('the catalog traces the causes of these symptoms and of no others', () => {
  const diagnosed = faultCatalog.filter(
    ({ role, remedies }) =>
      role === 'symptom' && remedies.some(({ remedyClass }) => remedyClass === 'diagnose'),
  );
  expect(diagnosed.map(({ code }) => code)).toEqual(traced.map(({ fault }) => fault));
});

describe.each(traced)('tracing the cause of $fault', ({ fault, on, look }) => {
  test('is due only after the look that the visit fee includes is recorded, and says so', () => {
    expect(dueBefore(fault, 'diagnose', on([]))).toEqual([
      expect.stringMatching(
        /^Looking for the cause is within the visit fee; record it first\. Look /,
      ),
    ]);
    expect(dueBefore(fault, 'diagnose', on([saw(look)]))).toEqual([]);
  });

  test.each<[string, Sign]>([
    ['not done', saw(look, 'no')],
    ['only reported by somebody', saw(look, 'yes', { source: 'reported' })],
  ])('is not carried by a look that was %s', (_what, sign) => {
    expect(dueBefore(fault, 'diagnose', on([sign]))).toHaveLength(1);
  });

  test('holds nothing else up: a reset is done before or after the look', () => {
    expect(dueBefore(fault, 'reset', on([]))).toEqual([]);
  });
});

test.each<RemedyClass>(['replace', 'diagnose'])(
  'a contactor is not blamed before the voltage at its coil is known, whatever is done: %s',
  (remedyClass) => {
    expect(dueBefore('worn_contactor', remedyClass, outdoorUnit([]))).toHaveLength(1);
    const measured = outdoorUnit([volts('contactor_coil', 25)]);
    expect(dueBefore('worn_contactor', remedyClass, measured)).toEqual([]);
  },
);
