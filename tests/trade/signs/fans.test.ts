import { expect, test } from 'vitest';
import { admitEvidence } from '../../../src/trade/facts/admit-evidence.ts';
import type { Evidence, Nameplate } from '../../../src/trade/index.ts';
import { fansSignReaders } from '../../../src/trade/signs/fans.ts';
import {
  airHandler,
  amps,
  condenserNameplate,
  makeEvidence,
  microfarads,
  outdoorUnit,
  running,
  volts,
} from '../make-evidence.ts';

const later = { takenAt: '2026-07-14T15:10:00Z' };
const blower: Nameplate = {
  fanMotor: 'psc',
  fanFlaAmps: 3.6,
  capacitorBlowerUf: 10,
  capacitorTolerancePercent: 5,
};
type Row = [
  name: string,
  code: keyof typeof fansSignReaders,
  evidence: Evidence,
  expected: string | undefined,
];

// 10 uF +/-5 %: 9.50 to 10.50, failed below 9.00; leads off 1.9 % + 0.02 uF.
const capacitorRows: Row[] = [
  ['nothing measured', 'capacitor_blower', airHandler([], blower), undefined],
  [
    '6.1 uF',
    'capacitor_blower',
    airHandler([microfarads('capacitor_blower', 6.1)], blower),
    'failed',
  ],
  [
    '9.25 uF',
    'capacitor_blower',
    airHandler([microfarads('capacitor_blower', 9.25)], blower),
    'weak',
  ],
  ['10 uF', 'capacitor_blower', airHandler([microfarads('capacitor_blower', 10)], blower), 'fine'],
  [
    '9.05 uF spans 9.00',
    'capacitor_blower',
    airHandler([microfarads('capacitor_blower', 9.05)], blower),
    undefined,
  ],
  [
    '6.6 uF under load',
    'capacitor_blower',
    airHandler(running('capacitor_blower', 0.91, 366), blower),
    'failed',
  ],
  [
    'its rating not recorded',
    'capacitor_blower',
    airHandler([microfarads('capacitor_blower', 6.1)]),
    undefined,
  ],
];

// Outdoor fan 1.1 A; a clamp of 2 % + 3 counts reads 1.11 A to 0.052 A and 0.12 A to 0.032 A.
const ampsRows: Row[] = [
  ['nothing measured', 'outdoor_fan_amps', outdoorUnit([]), undefined],
  ['0.02 A', 'outdoor_fan_amps', outdoorUnit([amps('outdoor_fan_lead', 0.02)]), 'none'],
  [
    '0.12 A cannot be told from none',
    'outdoor_fan_amps',
    outdoorUnit([amps('outdoor_fan_lead', 0.12)]),
    undefined,
  ],
  ['0.95 A', 'outdoor_fan_amps', outdoorUnit([amps('outdoor_fan_lead', 0.95)]), 'fine'],
  [
    '1.11 A spans the plate',
    'outdoor_fan_amps',
    outdoorUnit([amps('outdoor_fan_lead', 1.11)]),
    undefined,
  ],
  ['1.9 A', 'outdoor_fan_amps', outdoorUnit([amps('outdoor_fan_lead', 1.9)]), 'high'],
  [
    'two readings that disagree',
    'outdoor_fan_amps',
    outdoorUnit([amps('outdoor_fan_lead', 0), amps('outdoor_fan_lead', 1.9, later)]),
    undefined,
  ],
  [
    'no amps on the plate',
    'outdoor_fan_amps',
    outdoorUnit([amps('outdoor_fan_lead', 1.9)], { fanFlaAmps: undefined }),
    undefined,
  ],
  ['blower at 2.9 A', 'blower_amps', airHandler([amps('blower_lead', 2.9)], blower), 'fine'],
  ['blower at 5 A', 'blower_amps', airHandler([amps('blower_lead', 5)], blower), 'high'],
  ['blower at 0 A', 'blower_amps', airHandler([amps('blower_lead', 0)], blower), 'none'],
  [
    'the plate of a package unit gives the amps of its outdoor fan, not of its blower',
    'blower_amps',
    makeEvidence('package_unit', condenserNameplate, [amps('blower_lead', 2.9)]),
    undefined,
  ],
];

const furnace = (value: number) => makeEvidence('furnace', {}, [volts('blower_supply', value)]);
const voltsRows: Row[] = [
  ['nothing measured', 'outdoor_fan_volts', outdoorUnit([]), undefined],
  ['0.4 V', 'outdoor_fan_volts', outdoorUnit([volts('outdoor_fan_supply', 0.4)]), 'none'],
  ['238 V', 'outdoor_fan_volts', outdoorUnit([volts('outdoor_fan_supply', 238)]), 'fine'],
  [
    'a low voltage is neither',
    'outdoor_fan_volts',
    outdoorUnit([volts('outdoor_fan_supply', 150)]),
    undefined,
  ],
  [
    '198 V spans the 197 of the plate',
    'outdoor_fan_volts',
    outdoorUnit([volts('outdoor_fan_supply', 198)]),
    undefined,
  ],
  ['118 V on a furnace', 'blower_volts', furnace(118), 'fine'],
  ['0 V on a furnace', 'blower_volts', furnace(0), 'none'],
];

test.each([...capacitorRows, ...ampsRows, ...voltsRows])(
  '%s as %s',
  (_name, code, evidence, expected) => {
    expect(fansSignReaders[code](admitEvidence(evidence))).toBe(expected);
  },
);
