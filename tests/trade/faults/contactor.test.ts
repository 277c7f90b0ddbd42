import { expect, test } from 'vitest';
import {
  currentEvidenceRuleset,
  type Evidence,
  evidenceRulesets,
  type Verdict,
} from '../../../src/trade/index.ts';
import {
  airHandler,
  amps,
  outdoorUnit,
  type Sign,
  saw,
  volts,
  withPhoto,
} from '../make-evidence.ts';

const pulledIn = saw('contactor_pulled_in');
const notPulledIn = saw('contactor_pulled_in', 'no');
const runs = saw('compressor_running');
const pole1 = (value: number) => volts('contactor_pole_1', value);
const pole2 = (value: number) => volts('contactor_pole_2', value);
const coil = (value: number) => volts('contactor_coil', value);
const pitted = 'contactor_contacts_pitted';

// Common practice, no source: a closed pole drops about 0 V; above 0.5 V is worn, above 3 V is due.
// A multimeter of 1 % + 3 counts reads 3.0 V to 0.033 V and 0.5 V to 0.008 V.
const rows: [name: string, signs: Sign[], standing: Verdict['standing'], reason: string][] = [
  ['nothing recorded', [], 'unproven', 'nothing recorded'],
  ['3.1 V over a closed pole', [pulledIn, pole1(3.1)], 'proven', 'proven'],
  ['the worse pole decides', [pulledIn, runs, pole1(0.02), pole2(4)], 'proven', 'proven'],
  ['3.02 V cannot be told from 3 V', [pulledIn, pole1(3.02)], 'supported', 'supported'],
  ['1.2 V over a closed pole', [pulledIn, pole1(1.2)], 'supported', 'supported'],
  [
    '0.502 V cannot be told from 0.5 V',
    [pulledIn, pole1(0.502)],
    'unproven',
    'undecided by this method',
  ],
  ['line voltage over a pole said to be closed', [pulledIn, pole1(240)], 'proven', 'proven'],
  [
    'line voltage over a pole that is open',
    [notPulledIn, pole1(240)],
    'unproven',
    'undecided by this method',
  ],
  [
    'a drop when nobody recorded whether it is closed',
    [pole1(4)],
    'unproven',
    'undecided by this method',
  ],
  [
    'both poles clean under load',
    [pulledIn, runs, pole1(0.05), pole2(0.04)],
    'contradicted',
    'contradicted',
  ],
  [
    'both poles clean, load shown by the amps',
    [pulledIn, amps('compressor_common', 15), pole1(0.05), pole2(0.04)],
    'contradicted',
    'contradicted',
  ],
  [
    'no drop without any load proves nothing',
    [pulledIn, pole1(0.05), pole2(0.04)],
    'unproven',
    'undecided by this method',
  ],
  [
    'one clean pole of two proves nothing',
    [pulledIn, runs, pole1(0.05)],
    'unproven',
    'undecided by this method',
  ],
  ['pitted contacts with a photo', [saw(pitted, 'yes', withPhoto)], 'supported', 'supported'],
  ['pitted contacts without a photo', [saw(pitted)], 'supported', 'supported'],
  [
    'pitted without photo, clean by the meter',
    [saw(pitted), pulledIn, runs, pole1(0.05), pole2(0.04)],
    'contradicted',
    'contradicted',
  ],
  ['24.8 V at the coil and it stays open', [coil(24.8), notPulledIn], 'proven', 'proven'],
  [
    '20.1 V at the coil cannot be told from 20 V',
    [coil(20.1), notPulledIn],
    'unproven',
    'undecided by this method',
  ],
  [
    'no voltage at the coil: look upstream',
    [coil(0), notPulledIn],
    'unproven',
    'looked for, no sign found',
  ],
  ['24 V at the coil, pulled in', [coil(24.8), pulledIn], 'unproven', 'looked for, no sign found'],
  [
    '24 V at the coil, nobody looked whether it pulled in',
    [coil(24.8)],
    'unproven',
    'undecided by this method',
  ],
  [
    '240 V at a coil that is no 24 V coil: nothing is known of what it needs',
    [coil(240), notPulledIn],
    'unproven',
    'undecided by this method',
  ],
  ['the isolated coil reads open (OL)', [saw('contactor_coil_reads_open')], 'proven', 'proven'],
  [
    'one pole read twice, worlds apart, beside a clean one',
    [
      pulledIn,
      runs,
      pole1(0.05),
      pole2(4),
      volts('contactor_pole_2', 0.04, { takenAt: '2026-07-14T15:05:00Z' }),
    ],
    'unproven',
    'readings disagree, measure again',
  ],
  [
    'what the caller heard',
    [saw(pitted, 'yes', { ...withPhoto, source: 'reported' })],
    'unproven',
    'nothing recorded',
  ],
];
test.each(rows)('contactor: %s', (_name, signs, standing, reason) => {
  const verdict = weigh(outdoorUnit(signs));
  expect([verdict.standing, verdict.reason]).toEqual([standing, reason]);
});

test('a single-pole contactor is judged by its one pole', () => {
  const signs = [pulledIn, runs, pole1(0.05)];
  expect(weigh(outdoorUnit(signs, { contactorPoles: 1 })).standing).toBe('contradicted');
});

test('an air handler has no outdoor contactor to blame', () => {
  expect(weigh(airHandler([pulledIn, pole1(4)]))).toMatchObject({
    standing: 'not_applicable',
    reason: 'this fault is not found on an air handler',
  });
});

test('an inverter unit has no contactor to blame', () => {
  const evidence = outdoorUnit([pulledIn, pole1(4)], { compressorMotor: 'inverter' });
  expect(weigh(evidence).standing).toBe('not_applicable');
});

function weigh(evidence: Evidence): Verdict {
  return evidenceRulesets[currentEvidenceRuleset].weigh('worn_contactor', evidence);
}
