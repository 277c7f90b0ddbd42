import { expect, test } from 'vitest';
import {
  currentEvidenceRuleset,
  evidenceRulesets,
  type Verdict,
} from '../../../../src/trade/index.ts';
import { airHandler, degF, ohms, type Sign, saw } from '../../make-evidence.ts';

// A sensor of 10,000 ohm at 77 F and a beta of 3950 K: 10,000 * exp(3950 * (1/T - 1/298.15)).
// At 77 F 10,000 ohm are due and 1 F more or less is 2.5 %; at 95 F (308.15 K) 6,506 ohm are due.
const coil = (resistance: number, temperature: number) => [
  ohms('coil_sensor', resistance),
  degF('coil_sensor', temperature),
];

const reported = saw('controller_reports_sensor_fault');
const air = (resistance: number) => [ohms('air_sensor', resistance), degF('air_sensor', 77)];

const rows: [name: string, signs: Sign[], standing: Verdict['standing'], reason: string][] = [
  ['nothing recorded', [], 'unproven', 'nothing recorded'],
  ['10,000 ohm at 77 F', coil(10_000, 77), 'unproven', 'leans against'],
  ['6,500 ohm at 95 F', coil(6_500, 95), 'unproven', 'leans against'],
  ['10,000 ohm at 95 F: 54 % too much', coil(10_000, 95), 'proven', 'proven'],
  ['a short at 77 F', coil(0, 77), 'proven', 'proven'],
  ['8,500 ohm at 77 F: 15 % too little', coil(8_500, 77), 'supported', 'supported'],
  [
    '10,900 ohm at 77 F cannot be told from 10 %',
    coil(10_900, 77),
    'unproven',
    'undecided by this method',
  ],
  [
    'no temperature beside it',
    [ohms('coil_sensor', 10_000)],
    'unproven',
    'undecided by this method',
  ],
  [
    'a temperature of another hour',
    [ohms('coil_sensor', 5_000), degF('coil_sensor', 77, { takenAt: '2026-07-14T17:00:00Z' })],
    'unproven',
    'undecided by this method',
  ],
  ['reported by the controller', [reported], 'unproven', 'undecided by this method'],
  [
    'reported, and it follows its table',
    [reported, ...coil(10_000, 77)],
    'unproven',
    'leans against',
  ],
  [
    'the coil sensor good, the air sensor far off a table that may not be its own',
    [...coil(10_000, 77), ...air(3_000)],
    'unproven',
    'undecided by this method',
  ],
  [
    'a coil sensor of 20,000 ohm beside an air sensor that follows the table',
    [...coil(20_000, 77), ...air(10_000)],
    'supported',
    'supported',
  ],
  ['both far off', [...coil(3_000, 77), ...air(20_000)], 'proven', 'proven'],
  [
    'the same, and the controller reports one',
    [reported, ...coil(10_000, 77), ...air(8_500)],
    'supported',
    'supported',
  ],
];
test.each(rows)('failed temperature sensor: %s', (_name, signs, standing, reason) => {
  const ruleset = evidenceRulesets[currentEvidenceRuleset];
  const verdict = ruleset.weigh(
    'failed_sensor',
    airHandler(signs, { sensorOhmsAt77F: 10_000, sensorBetaK: 3950 }),
  );
  expect([verdict.standing, verdict.reason]).toEqual([standing, reason]);
});

test('a sensor whose table nobody recorded is not judged', () => {
  const ruleset = evidenceRulesets[currentEvidenceRuleset];
  for (const nameplate of [{}, { sensorOhmsAt77F: 10_000 }, { sensorBetaK: 3950 }]) {
    const verdict = ruleset.weigh('failed_sensor', airHandler(coil(3_000, 77), nameplate));
    expect([verdict.standing, verdict.reason]).toEqual(['unproven', 'undecided by this method']);
  }
});
