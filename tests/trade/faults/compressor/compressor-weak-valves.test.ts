import { expect, test } from 'vitest';
import {
  currentEvidenceRuleset,
  type Evidence,
  evidenceRulesets,
  type Nameplate,
  type Verdict,
} from '../../../../src/trade/index.ts';
import { degF, inH2O, pipeDegF, psig, wetBulbDegF } from '../../make-circuit.ts';
import {
  amps,
  condenserNameplate,
  makeEvidence,
  type Sign,
  saw,
  withPhoto,
} from '../../make-evidence.ts';

const plate: Nameplate = {
  ...condenserNameplate,
  refrigerant: 'R-410A',
  meteringDevice: 'txv',
  stages: 1,
};

// R-410A at sea level: dew 156.0 psig is 55 F, bubble 341.9 psig is 105 F. So the suction is 20 F
// under the return air, condensing 10 F over the outdoor air, superheat 2 F, subcooling 11 F.
const pattern = {
  runs: saw('compressor_running'),
  suction: psig('suction_port', 156),
  suctionLine: pipeDegF('suction_line', 57),
  head: psig('liquid_port', 341.9),
  liquidLine: pipeDegF('liquid_line', 94),
  outdoors: degF('outdoor_air', 95),
  returns: degF('return_air', 75),
  amps: amps('compressor_common', 8),
  before: inH2O('return_static', -0.2),
  after: inH2O('supply_static', 0.2),
  filter: saw('filter_dirty', 'no'),
  fan: saw('indoor_fan_running'),
  call: saw('thermostat_calling_cooling'),
  bulb: saw('sensing_bulb_loose', 'no'),
  follows: saw('superheat_follows_bulb'),
};

function signs(changes: Partial<Record<keyof typeof pattern, Sign | undefined>> = {}): Sign[] {
  return Object.values({ ...pattern, ...changes }).filter((each) => each !== undefined);
}

const rows: [name: string, signs: Sign[], standing: Verdict['standing'], reason: string][] = [
  ['nothing recorded', [], 'unproven', 'nothing recorded'],
  ['the full pattern', signs(), 'proven', 'proven'],
  ['nobody measured the amps', signs({ amps: undefined }), 'supported', 'supported'],
  [
    'its amps are near its rating',
    signs({ amps: amps('compressor_common', 16) }),
    'supported',
    'supported',
  ],
  ['the airflow was not verified', signs({ after: undefined }), 'supported', 'supported'],
  [
    'the static pressure is too high',
    signs({ after: inH2O('supply_static', 0.6) }),
    'supported',
    'supported',
  ],
  [
    'the superheat is not low',
    signs({ suctionLine: pipeDegF('suction_line', 68) }),
    'supported',
    'supported',
  ],
  [
    'the subcooling is low',
    signs({ liquidLine: pipeDegF('liquid_line', 103) }),
    'supported',
    'supported',
  ],
  ['the filter was not looked at', signs({ filter: undefined }), 'supported', 'supported'],
  [
    'the sensing bulb hangs loose and floods it',
    signs({ bulb: saw('sensing_bulb_loose', 'yes', withPhoto) }),
    'supported',
    'supported',
  ],
  ['the sensing bulb was not looked at', signs({ bulb: undefined }), 'supported', 'supported'],
  [
    'the valve does not follow its bulb',
    signs({ follows: saw('superheat_follows_bulb', 'no') }),
    'supported',
    'supported',
  ],
  [
    'a label names another refrigerant',
    [...signs(), saw('wrong_refrigerant_marked', 'yes', withPhoto)],
    'supported',
    'supported',
  ],
  ['there is ice on the coil', [...signs(), saw('ice_on_coil_or_line')], 'supported', 'supported'],
  // Dew 132.0 psig is about 45.8 F and bubble 238 psig about 81 F: a sound one with a flooding valve.
  [
    'a mild day of 70 F',
    signs({
      suction: psig('suction_port', 132),
      suctionLine: pipeDegF('suction_line', 47),
      head: psig('liquid_port', 238),
      liquidLine: pipeDegF('liquid_line', 68),
      outdoors: degF('outdoor_air', 70),
      returns: degF('return_air', 71),
      amps: amps('compressor_common', 10.5),
    }),
    'supported',
    'supported',
  ],
  // Dew 176 psig is 62 F: 22 F under the return air, and 2 F of superheat at 64 F.
  [
    'its house has grown hot, as it does behind a weak one',
    signs({
      suction: psig('suction_port', 176),
      suctionLine: pipeDegF('suction_line', 64),
      returns: degF('return_air', 84),
    }),
    'proven',
    'proven',
  ],
  // Dew 207.6 psig is 72 F: 23 F under the return air.
  [
    'the house is at 95 F',
    signs({
      suction: psig('suction_port', 207.6),
      suctionLine: pipeDegF('suction_line', 74),
      returns: degF('return_air', 95),
    }),
    'supported',
    'supported',
  ],
  ['the house is at 68 F', signs({ returns: degF('return_air', 68) }), 'supported', 'supported'],
  ['nobody says that it runs', signs({ runs: undefined }), 'supported', 'supported'],
  [
    'it does not run, and pressures at rest are close',
    signs({ runs: saw('compressor_running', 'no') }),
    'unproven',
    'undecided by this method',
  ],
  [
    'without the return air a suction of 55 F is a hint',
    signs({ returns: undefined }),
    'supported',
    'supported',
  ],
  [
    'a cool day',
    signs({ outdoors: degF('outdoor_air', 50) }),
    'unproven',
    'looked for, no sign found',
  ],
  // Bubble 391.5 psig is about 115 F: 20 F over the outdoor air.
  [
    'the head is as it should be',
    signs({ head: psig('liquid_port', 391.5) }),
    'unproven',
    'looked for, no sign found',
  ],
  // Dew 118.4 psig is 40 F: 35 F under the return air.
  [
    'it pulls the suction down and builds its head',
    signs({ suction: psig('suction_port', 118.4), head: psig('liquid_port', 391.5) }),
    'contradicted',
    'contradicted',
  ],
];
test.each(rows)('weak compressor: %s', (_name, given, standing, reason) => {
  const verdict = weigh(makeEvidence('condensing_unit', plate, given));
  expect([verdict.standing, verdict.reason]).toEqual([standing, reason]);
});

const rise = (into: number, out: number) => [
  pipeDegF('reversing_valve_suction_in', into),
  pipeDegF('reversing_valve_suction_out', out),
];
test.each([
  ['its reversing valve was not measured', [], 'supported'],
  ['its reversing valve leaks', rise(56, 75), 'supported'],
  ['its reversing valve is tight', rise(56, 57), 'proven'],
])('on a heat pump the reversing valve must be excluded: %s', (_name, lines, standing) => {
  const verdict = weigh(makeEvidence('heat_pump', plate, [...signs(), ...lines]));
  expect(verdict.standing).toBe(standing);
});

test.each([
  ['a fixed orifice has no bulb', 'fixed_orifice', 'proven'],
  ['an electronic valve may stand open', 'eev', 'supported'],
] as const)('%s', (_name, meteringDevice, standing) => {
  const wetBulb = wetBulbDegF('return_air', 66);
  const given = [...signs({ bulb: undefined, follows: undefined }), wetBulb];
  const verdict = weigh(makeEvidence('condensing_unit', { ...plate, meteringDevice }, given));
  expect(verdict.standing).toBe(standing);
});

test('where nobody recorded how many stages it has, it is never proven', () => {
  const { stages: _, ...unknown } = plate;
  expect(weigh(makeEvidence('condensing_unit', unknown, signs())).standing).toBe('supported');
});

test.each([
  ['three phases', { phase: 3 }],
  ['a three-phase motor', { compressorMotor: 'three_phase' }],
] as const)('one of %s may turn backwards and is never proven', (_name, nameplate) => {
  const evidence = makeEvidence('condensing_unit', { ...plate, ...nameplate }, signs());
  expect(weigh(evidence).standing).toBe('supported');
});

test('a package unit may be a heat pump, so its reversing valve must be excluded too', () => {
  expect(weigh(makeEvidence('package_unit', plate, signs())).standing).toBe('supported');
  const tight = [...signs(), ...rise(56, 57)];
  expect(weigh(makeEvidence('package_unit', plate, tight)).standing).toBe('proven');
});

test('pressures of a heat pump that heats are not judged', () => {
  const given = [...signs({ call: saw('thermostat_calling_cooling', 'no') }), ...rise(56, 57)];
  expect(weigh(makeEvidence('heat_pump', plate, given)).standing).toBe('supported');
});

test('a compressor of two stages shows the same in its low stage, so it is never proven', () => {
  const evidence = makeEvidence('condensing_unit', { ...plate, stages: 2 }, signs());
  expect(weigh(evidence).standing).toBe('supported');
});

test('an inverter compressor is not judged by a pattern', () => {
  const inverter: Nameplate = { ...plate, compressorMotor: 'inverter' };
  expect(weigh(makeEvidence('heat_pump', inverter, signs())).standing).toBe('not_applicable');
});

test('a refrigerant we have no table of leaves it undecided', () => {
  const evidence = makeEvidence('condensing_unit', { ...plate, refrigerant: 'R-404A' }, signs());
  expect(weigh(evidence)).toMatchObject({
    standing: 'unproven',
    doubts: expect.arrayContaining([
      'The nameplate names R-404A, whose pressures are not in our tables.',
    ]),
  });
});

function weigh(evidence: Evidence): Verdict {
  return evidenceRulesets[currentEvidenceRuleset].weigh('compressor_weak_valves', evidence);
}
