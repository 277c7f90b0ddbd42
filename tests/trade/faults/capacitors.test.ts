import { describe, expect, test } from 'vitest';
import {
  currentEvidenceRuleset,
  type Evidence,
  evidenceRulesets,
  type Nameplate,
  type Verdict,
} from '../../../src/trade/index.ts';
import {
  amps,
  microfarads,
  outdoorUnit,
  running,
  type Sign,
  saw,
  volts,
  withPhoto,
} from '../make-evidence.ts';

const herm = 'capacitor_herm';
const fan = 'capacitor_fan';
const bulged = 'capacitor_herm_bulged_or_leaking';
const byHand = 'contactor_by_hand_both_start';
const later = { takenAt: '2026-07-14T15:20:00Z' };
const latest = { takenAt: '2026-07-14T15:40:00Z' };

// Nameplate 45/5 uF +/-6 %: tolerance band 42.30 to 47.70 and 4.70 to 5.30; 10 % below is 40.50 and 4.50.
// Uncertainties in the comments were worked by hand: amps 2 % + 0.03 A, volts 1 % + 0.3 V, in
// quadrature; leads off 1.9 % + 0.02 uF.
describe('the compressor section of the run capacitor', () => {
  const rows: [name: string, signs: Sign[], standing: Verdict['standing'], reason: string][] = [
    ['nothing recorded', [], 'unproven', 'nothing recorded'],
    ['30.9 uF under load is far below 40.5', running(herm, 4.1, 352), 'proven', 'proven'],
    // 45.04 +/- 1.22
    [
      '45.0 uF under load is inside the label',
      running(herm, 6.3, 371),
      'contradicted',
      'contradicted',
    ],
    // 39.41 +/- 1.10 reaches 40.51: surely below 42.30, not surely below 40.50.
    [
      '39.4 uF is out of tolerance, its failure in doubt',
      running(herm, 5.2, 350),
      'supported',
      'supported',
    ],
    // 41.83 +/- 1.14, which is 7.0 % low on a 6 % part.
    [
      '7 % low on a 6 % part is undecided under load',
      running(herm, 5.85, 371),
      'unproven',
      'undecided by this method',
    ],
    // 41.0 +/- 0.80 with the leads off.
    [
      '41.0 uF leads off is out of tolerance, not failed',
      [microfarads(herm, 41)],
      'supported',
      'supported',
    ],
    // 39.5 +/- 0.77
    ['39.5 uF leads off has failed', [microfarads(herm, 39.5)], 'proven', 'proven'],
    ['an open section measures 0 uF leads off', [microfarads(herm, 0)], 'proven', 'proven'],
    // 50.0 +/- 0.97
    ['50 uF is out of tolerance upwards', [microfarads(herm, 50)], 'supported', 'supported'],
    ['bulged with a photo', [saw(bulged, 'yes', withPhoto)], 'proven', 'proven'],
    ['bulged without a photo', [saw(bulged)], 'supported', 'supported'],
    ['not bulged says nothing', [saw(bulged, 'no')], 'unproven', 'looked for, no sign found'],
    ['both motors start by hand, nothing measured', [saw(byHand)], 'unproven', 'leans against'],
    [
      'a measurement overrides the push by hand',
      [saw(byHand), ...running(herm, 4.1, 352)],
      'proven',
      'proven',
    ],
    [
      'an undecided measurement overrides it too',
      [saw(byHand), ...running(herm, 5.85, 371)],
      'unproven',
      'undecided by this method',
    ],
    [
      'bulged without photo against the push by hand',
      [saw(bulged), saw(byHand)],
      'unproven',
      'signs disagree',
    ],
    [
      'bulged with photo against the push by hand',
      [saw(bulged, 'yes', withPhoto), saw(byHand)],
      'proven',
      'proven, with the doubt named',
    ],
    [
      'bulged without photo, measured good',
      [saw(bulged), microfarads(herm, 45)],
      'contradicted',
      'contradicted',
    ],
    [
      'bulged with photo, measured good today: it is replaced, and what speaks against is named',
      [saw(bulged, 'yes', withPhoto), microfarads(herm, 44.5)],
      'proven',
      'proven, with the doubt named',
    ],
    [
      'under load with the voltage of the line instead of its own: far too much',
      running(herm, 6.3, 240),
      'unproven',
      'undecided by this method',
    ],
    ['far too much with the leads off', [microfarads(herm, 69.6)], 'supported', 'supported'],
    [
      'two pairs that contradict each other',
      [...running(herm, 4.1, 352), ...running(herm, 6.3, 371, later)],
      'unproven',
      'readings disagree, measure again',
    ],
    [
      'a third pair that confirms the second',
      [
        ...running(herm, 6.3, 371),
        ...running(herm, 4.1, 352, later),
        ...running(herm, 4.12, 352, latest),
      ],
      'proven',
      'proven',
    ],
    [
      'two pairs that agree',
      [...running(herm, 4.1, 352), ...running(herm, 4.15, 352, later)],
      'proven',
      'proven',
    ],
    [
      'leads off outranks a later reading under load',
      [microfarads(herm, 45), ...running(herm, 4.1, 352, later)],
      'contradicted',
      'contradicted',
    ],
    [
      'leads off settles what load left open',
      [...running(herm, 5.85, 371), microfarads(herm, 41, later)],
      'supported',
      'supported',
    ],
    [
      'no current flows: the winding may be open instead',
      running(herm, 0, 240),
      'unproven',
      'undecided by this method',
    ],
    ['no motor runs at 12 V', running(herm, 0.3, 12), 'unproven', 'undecided by this method'],
    [
      'amps alone are no capacitance',
      running(herm, 4.1, 352).slice(0, 1),
      'unproven',
      'undecided by this method',
    ],
    [
      'amps and volts an hour apart are not a pair',
      [
        ...running(herm, 4.1, 352).slice(0, 1),
        ...running(herm, 4.1, 352, { takenAt: '2026-07-14T16:00:00Z' }).slice(1),
      ],
      'unproven',
      'undecided by this method',
    ],
    [
      'disagreeing measurements override it too',
      [saw(byHand), ...running(herm, 4.1, 352), ...running(herm, 6.3, 371, later)],
      'unproven',
      'readings disagree, measure again',
    ],
    [
      'amps alone measure nothing and override nothing',
      [saw(byHand), ...running(herm, 4.1, 352).slice(0, 1)],
      'unproven',
      'leans against',
    ],
    [
      'readings typed in after later ones keep their own time',
      [
        ...running(herm, 4.1, 352, latest),
        ...running(herm, 4.12, 352, later),
        ...running(herm, 6.3, 371),
      ],
      'proven',
      'proven',
    ],
    [
      'a second look finds no bulge after all',
      [saw(bulged, 'no', { at: later.takenAt }), saw(bulged)],
      'unproven',
      'looked for, no sign found',
    ],
    [
      'a second look finds a bulge after all',
      [saw(bulged), saw(bulged, 'no', { at: '2026-07-14T14:40:00Z' })],
      'supported',
      'supported',
    ],
    [
      'what the caller says about it',
      [saw(bulged, 'yes', { ...withPhoto, source: 'reported' })],
      'unproven',
      'nothing recorded',
    ],
    [
      'a figure another company reported',
      running(herm, 4.1, 352, { source: 'reported' }),
      'unproven',
      'nothing recorded',
    ],
    [
      'a reading taken after the work',
      running(herm, 4.1, 352, { phase: 'left' }),
      'unproven',
      'nothing recorded',
    ],
    [
      'a reading of other equipment',
      running(herm, 4.1, 352, { equipmentId: 'unit-2' }),
      'unproven',
      'nothing recorded',
    ],
    ['an impossible reading', [microfarads(herm, 4500)], 'unproven', 'nothing recorded'],
    ['an unknown is no answer', [saw(bulged, 'unknown')], 'unproven', 'nothing recorded'],
    [
      'the fan section says nothing about it',
      running(fan, 0.3, 348),
      'unproven',
      'nothing recorded',
    ],
  ];
  test.each(rows)('%s', (_name, signs, standing, reason) => {
    const verdict = weighHerm(outdoorUnit(signs));
    expect([verdict.standing, verdict.reason]).toEqual([standing, reason]);
  });

  test('says in numbers what was measured, the limit, and how good the method is', () => {
    const verdict = weighHerm(outdoorUnit(running(herm, 4.1, 352)));
    const failed = verdict.criteria.find((each) => each.id === 'failed');
    // 4.1 A at 352 V: 30.896 uF; sqrt((0.112/4.1)^2 + (3.82/352)^2) = 2.940 % of it.
    expect(failed?.measurement?.value).toBeCloseTo(30.8965, 3);
    expect(failed?.measurement?.uncertainty).toBeCloseTo(0.9082, 3);
    expect(failed?.measurement).toMatchObject({ unit: 'uF', low: 40.5, rated: 45 });
    expect(failed?.detail).toBe(
      '30.90 uF measured under load; 40.50 uF is 10 % below the 45 uF on the nameplate; this method is good to 2.9 %.',
    );
    expect(failed?.readingIds).toEqual(['r0', 'r1']);
  });

  test('names the doubt when a value out of tolerance cannot be told from the failure limit', () => {
    const verdict = weighHerm(outdoorUnit(running(herm, 5.2, 350)));
    expect(verdict.doubts.join(' ')).toContain('test it disconnected');
  });

  test('pairs the amps with the volts taken closest to them', () => {
    const [current, voltage] = running(herm, 4.1, 352);
    const [, laterVoltage] = running(herm, 4.1, 240, { takenAt: '2026-07-14T15:10:00Z' });
    const signs = [current, laterVoltage, voltage].filter((sign) => sign !== undefined);
    const failed = weighHerm(outdoorUnit(signs)).criteria.find((each) => each.id === 'failed');
    expect(failed?.measurement?.value).toBeCloseTo(30.8965, 3);
  });

  test('names what speaks against a proven fault', () => {
    const signs = [saw(bulged, 'yes', withPhoto), saw(byHand)];
    expect(weighHerm(outdoorUnit(signs)).doubts.join(' ')).toContain('both motors start');
  });

  test('names the reading under load that the leads-off test contradicts', () => {
    const signs = [microfarads(herm, 45), ...running(herm, 4.1, 352)];
    expect(weighHerm(outdoorUnit(signs)).doubts.join(' ')).toContain('30.90 uF');
  });

  test('names an earlier look that saw it otherwise', () => {
    const signs = [saw(bulged, 'no'), saw(bulged, 'yes', { at: later.takenAt })];
    expect(weighHerm(outdoorUnit(signs)).doubts).toHaveLength(1);
  });

  test('names an earlier reading that the judged one contradicts', () => {
    const signs = [
      ...running(herm, 6.3, 371),
      ...running(herm, 4.1, 352, later),
      ...running(herm, 4.12, 352, latest),
    ];
    expect(weighHerm(outdoorUnit(signs)).doubts.join(' ')).toContain('45.04 uF');
  });
});

describe('equipment decides whether the rule fits', () => {
  const notFitting: [string, Partial<Nameplate>, 'run_capacitor_herm' | 'run_capacitor_fan'][] = [
    ['a three-phase compressor', { compressorMotor: 'three_phase' }, 'run_capacitor_herm'],
    ['an inverter compressor', { compressorMotor: 'inverter' }, 'run_capacitor_herm'],
    [
      'a three-phase unit of unknown motor',
      { phase: 3, compressorMotor: undefined },
      'run_capacitor_herm',
    ],
    ['an ECM fan', { fanMotor: 'ecm' }, 'run_capacitor_fan'],
  ];
  test.each(notFitting)('%s has no such capacitor: not applicable', (_name, nameplate, fault) => {
    const signs = [
      ...running(herm, 4.1, 352),
      ...running(fan, 0.3, 348),
      saw(bulged, 'yes', withPhoto),
    ];
    const verdict = weigh(fault, outdoorUnit(signs, nameplate));
    expect(verdict).toMatchObject({ standing: 'not_applicable', criteria: [] });
    expect(verdict.reason).not.toBe('');
  });

  test('without a rating on the nameplate a reading proves nothing, the can found is no rating', () => {
    const verdict = weighHerm(outdoorUnit(running(herm, 4.1, 352), { capacitorHermUf: undefined }));
    expect(verdict.standing).toBe('unproven');
    expect(verdict.doubts.join(' ')).toContain('nameplate');
  });

  test('without the label tolerance a failed section is still failed, a good one is undecided', () => {
    const unlabelled = { capacitorTolerancePercent: undefined };
    expect(weighHerm(outdoorUnit([microfarads(herm, 30)], unlabelled)).standing).toBe('proven');
    expect(weighHerm(outdoorUnit([microfarads(herm, 45)], unlabelled)).standing).toBe('unproven');
  });

  // From memory of IEC 60252-1: preferred tolerance classes +/-5, +/-10, +/-15 %; +/-6 % is the
  // usual label in the US.
  const classes: [tolerance: number, low: number, high: number][] = [
    [5, 42.75, 47.25],
    [6, 42.3, 47.7],
    [10, 40.5, 49.5],
    [15, 38.25, 51.75],
  ];
  test.each(classes)('a 45 uF label of +/-%i %% allows %f to %f uF', (tolerance, low, high) => {
    const nameplate = { capacitorTolerancePercent: tolerance };
    const verdict = weighHerm(outdoorUnit([microfarads(herm, 45)], nameplate));
    const inside = verdict.criteria.find((each) => each.id === 'within_tolerance');
    expect(inside?.measurement?.low).toBeCloseTo(low, 9);
    expect(inside?.measurement?.high).toBeCloseTo(high, 9);
  });

  test('a part that its wide label still allows is never called failed', () => {
    // 39.5 +/- 0.77 uF is more than 10 % low, yet surely inside the 38.25 that a 15 % label allows.
    const verdict = weighHerm(
      outdoorUnit([microfarads(herm, 39.5)], { capacitorTolerancePercent: 15 }),
    );
    expect(verdict.standing).toBe('contradicted');
  });
});

test('each section of a dual capacitor is judged by itself', () => {
  // Common practice, worked by hand from first principles: HERM 5.20 A at 350 V is 39.41 uF,
  // 12.42 % low; FAN 0.63 A at 348 V is 4.80 uF, 3.96 % low. Three counts of a clamp meter are
  // 0.03 A, so that 0.63 A is good to 6.8 % only and cannot show a 6 % part to be good.
  const evidence = outdoorUnit([...running(herm, 5.2, 350), ...running(fan, 0.63, 348)]);
  const compressor = weigh('run_capacitor_herm', evidence);
  const fanVerdict = weigh('run_capacitor_fan', evidence);
  expect(compressor.criteria[0]?.measurement?.value).toBeCloseTo(39.41, 2);
  expect(fanVerdict.criteria[0]?.measurement?.value).toBeCloseTo(4.8, 2);
  expect([compressor.standing, fanVerdict.standing]).toEqual(['supported', 'unproven']);
  const fanDisconnected = weigh('run_capacitor_fan', outdoorUnit([microfarads(fan, 4.85)]));
  expect(fanDisconnected.standing).toBe('contradicted');
});

function weighHerm(evidence: Evidence): Verdict {
  return weigh('run_capacitor_herm', evidence);
}

function weigh(fault: 'run_capacitor_herm' | 'run_capacitor_fan', evidence: Evidence): Verdict {
  return evidenceRulesets[currentEvidenceRuleset].weigh(fault, evidence);
}

describe('half of a measurement under load', () => {
  test.each<[string, Sign[], string]>([
    [
      'amps alone',
      [amps(herm, 4.1)],
      'Measure the voltage across it too, or test it disconnected.',
    ],
    [
      'volts alone',
      [volts(herm, 352)],
      'Measure the current through it too, or test it disconnected.',
    ],
    [
      'amps and volts taken 20 minutes apart',
      [amps(herm, 4.1), volts(herm, 352, later)],
      'Current and voltage must be taken within 15 minutes of each other; measure again or test it disconnected.',
    ],
  ])('%s: says what is missing', (_what, signs, sentence) => {
    expect(weighHerm(outdoorUnit(signs)).doubts).toEqual([sentence]);
  });
});
