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
  ohms,
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
const at = (time: string) => ({ takenAt: `2026-07-14T${time}:00Z` });
const seenAt = (time: string) => ({ at: `2026-07-14T${time}:00Z` });
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
  [
    'pitted contacts with a photo: every one that has worked is',
    [saw(pitted, 'yes', withPhoto)],
    'unproven',
    'undecided by this method',
  ],
  ['pitted contacts without a photo', [saw(pitted)], 'unproven', 'undecided by this method'],
  [
    'pitted, and a closed pole drops 1.2 V',
    [saw(pitted), pulledIn, pole1(1.2)],
    'supported',
    'supported',
  ],
  [
    'pitted, and fed and running with nothing measured across it',
    [saw(pitted), coil(25.6), pulledIn, runs],
    'unproven',
    'undecided by this method',
  ],
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
  [
    'seen open before the call, and fed half an hour later',
    [saw('contactor_pulled_in', 'no', seenAt('15:00')), volts('contactor_coil', 25.3, at('15:30'))],
    'unproven',
    'undecided by this method',
  ],
  [
    'seen open, no call, then fed within minutes',
    [
      saw('contactor_pulled_in', 'no', seenAt('15:00')),
      saw('thermostat_calling_cooling', 'no', seenAt('15:02')),
      volts('contactor_coil', 25.3, at('15:08')),
    ],
    'unproven',
    'undecided by this method',
  ],
  [
    'seen open with a dead coil, fed later',
    [
      saw('contactor_pulled_in', 'no', seenAt('15:00')),
      volts('contactor_coil', 0.2, at('15:01')),
      volts('contactor_coil', 25.3, at('15:10')),
    ],
    'unproven',
    'undecided by this method',
  ],
  [
    'a dead coil at first, then fed and still open',
    [
      volts('contactor_coil', 0.2, at('15:00')),
      volts('contactor_coil', 25.3, at('15:30')),
      saw('contactor_pulled_in', 'no', seenAt('15:31')),
    ],
    'proven',
    'proven',
  ],
  [
    'fed and seen open, and the fan behind it seen running after',
    [coil(25.3), notPulledIn, saw('outdoor_fan_running', 'yes', seenAt('15:01'))],
    'unproven',
    'looked for, no sign found',
  ],
  [
    'the compressor ran before it was seen open',
    [coil(25.3), notPulledIn, saw('compressor_running', 'yes', seenAt('14:50'))],
    'proven',
    'proven',
  ],
  [
    'line voltage over a pole while everything runs was measured before it closed',
    [pulledIn, runs, pole1(121)],
    'unproven',
    'undecided by this method',
  ],
  [
    'line voltage over a pole that was seen closed only later',
    [volts('contactor_pole_1', 240, at('14:40')), pulledIn],
    'unproven',
    'undecided by this method',
  ],
  [
    'line voltage over a pole that was seen closed before a trip',
    [
      pulledIn,
      saw('breaker_found_tripped', 'yes', seenAt('15:05')),
      volts('contactor_pole_1', 240, at('15:10')),
    ],
    'unproven',
    'undecided by this method',
  ],
  [
    'the coil read open at its plug and has its ohms when isolated',
    [saw('contactor_coil_reads_open'), ohms('contactor_coil', 14.2)],
    'unproven',
    'readings disagree, measure again',
  ],
  [
    'the coil reads open and the contactor is in',
    [saw('contactor_coil_reads_open'), pulledIn],
    'unproven',
    'readings disagree, measure again',
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
