import { expect, test } from 'vitest';
import {
  currentEvidenceRuleset,
  type Evidence,
  evidenceRulesets,
  type Nameplate,
  type Verdict,
} from '../../../../src/trade/index.ts';
import { degF, inH2O, pipeDegF, psig } from '../../make-circuit.ts';
import { amps, condenserNameplate, makeEvidence, type Sign, saw } from '../../make-evidence.ts';

const plate: Nameplate = { ...condenserNameplate, refrigerant: 'R-410A', meteringDevice: 'txv' };

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
