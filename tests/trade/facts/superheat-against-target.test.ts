import { expect, test } from 'vitest';
import { admitEvidence } from '../../../src/trade/facts/admit-evidence.ts';
import { superheatAgainstTargetOf } from '../../../src/trade/facts/superheat-against-target.ts';
import { type Circuit, circuitPlate, circuitReadings } from '../circuit-readings.ts';
import { outdoorUnit } from '../make-evidence.ts';

const plate = { ...circuitPlate, refrigerant: 'R-22', meteringDevice: 'fixed_orifice' } as const;

function deviationOf(change: Partial<Circuit>) {
  const signs = circuitReadings({ refrigerant: 'R-22', ...change });
  return superheatAgainstTargetOf(admitEvidence(outdoorUnit(signs, plate)));
}

// A manufacturer's table for R-22 with fixed metering: 70 F wet bulb and 95 F outdoors, 18 F. One
// degree of wet bulb is 2 F of target there, one of outdoor air 0.5 F; gauge and clamp 1.38 F.
test('superheat is held against the published target, with the doubts of the weather', () => {
  const settled = deviationOf({ wetBulbDegF: 70, superheatDegF: 25 });
  expect(settled.kind === 'settled' && settled.measured.value).toBeCloseTo(7, 2);
  expect(settled.kind === 'settled' && settled.measured.uncertainty).toBeCloseTo(
    Math.hypot(1.38, 2, 0.5),
    1,
  );
  expect(settled.kind === 'settled' && settled.measured.readingIds).toHaveLength(4);
});

test.each<[string, Partial<Circuit>]>([
  ['a dash of the table', { wetBulbDegF: 58 }],
  ['weather outside the table', { wetBulbDegF: 70, outdoorDegF: 120, condensingDegF: 137 }],
])('no target, no deviation: %s', (_name, change) => {
  expect(deviationOf(change).kind).toBe('unusable');
});

test('a wet bulb of another hour is no weather of these readings', () => {
  const signs = circuitReadings({ refrigerant: 'R-22', wetBulbDegF: 70 }).map((sign) =>
    'reading' in sign && sign.reading.quantity === 'wet_bulb_temperature'
      ? { reading: { ...sign.reading, takenAt: '2026-07-14T16:00:00Z' } }
      : sign,
  );
  const facts = admitEvidence(outdoorUnit(signs, plate));
  expect(superheatAgainstTargetOf(facts).kind).toBe('unusable');
});
