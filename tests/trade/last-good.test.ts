import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type EarlierVisit, type Evidence, lastGood } from '../../src/trade/index.ts';
import {
  airHandler,
  amps,
  degF,
  microfarads,
  outdoorUnit,
  psig,
  running,
  type Sign,
  saw,
  volts,
} from './make-evidence.ts';

const left = { phase: 'left' } as const;

function visit(day: string, evidence: Evidence): EarlierVisit {
  return { visitId: `visit of ${day}`, day, evidence };
}

const spring = (signs: Sign[]) => visit('2026-04-12', outdoorUnit(signs));
const autumn = (signs: Sign[]) => visit('2025-10-03', outdoorUnit(signs));

function statements(today: Sign[], ...earlier: EarlierVisit[]): string[] {
  return lastGood(outdoorUnit(today), earlier).map(({ statement }) => statement);
}

// Uncertainties worked by hand: leads off 1.9 % + 2 x 0.01 uF; a multimeter 1 % + 3 x 0.1 V above
// 60 V; a thermometer 10 x 0.1 F; a difference has the root of the sum of the squares.
describe('what was measured today stands beside the last time it was measured', () => {
  test('a capacitor that lost more than both measurements are good to has changed', () => {
    // 0.019 x 27.1 + 0.02 = 0.5349; 0.019 x 34.6 + 0.02 = 0.6774; together 0.8631.
    const [comparison] = lastGood(outdoorUnit([microfarads('capacitor_fan', 27.1)]), [
      spring([microfarads('capacitor_fan', 34.6)]),
    ]);
    expect(comparison).toMatchObject({
      figure: 'capacitance',
      point: 'capacitor_fan',
      unit: 'uF',
      changed: 'less',
      today: { value: 27.1, readingIds: ['r0'] },
      before: { value: 34.6, visitId: 'visit of 2026-04-12', day: '2026-04-12', phase: 'found' },
    });
    expect(comparison?.difference).toBeCloseTo(-7.5, 10);
    expect(comparison?.uncertainty).toBeCloseTo(0.8631, 3);
    expect(comparison?.statement).toBe(
      'Capacitance, fan section of the run capacitor: 27.10 uF today, 34.60 uF on 2026-04-12: ' +
        "7.50 uF less, more than the methods' 0.86 uF.",
    );
  });

  test('one that lost less than that is the same as far as anybody can tell', () => {
    // 0.019 x 34 + 0.02 = 0.666; 0.019 x 34.6 + 0.02 = 0.6774; together 0.95.
    expect(
      statements([microfarads('capacitor_fan', 34)], spring([microfarads('capacitor_fan', 34.6)])),
    ).toEqual([
      "Capacitance, fan section of the run capacitor: 34.00 uF today, 34.60 uF on 2026-04-12: the same within the methods' 0.95 uF.",
    ]);
  });

  test('a supply that rose says by how much', () => {
    // 0.01 x 246 + 0.3 = 2.76; 0.01 x 238 + 0.3 = 2.68; together 3.847.
    expect(statements([volts('line_supply', 246)], spring([volts('line_supply', 238)]))).toEqual([
      expect.stringMatching(
        /^Voltage, line voltage at the unit: 246\.0 V today, 238\.0 V on 2026-04-12: 8\.00 V more, more than the methods' 3\.85 V\.$/,
      ),
    ]);
  });

  test('the latest visit that measured it counts, not the latest visit', () => {
    const [comparison] = lastGood(outdoorUnit([volts('line_supply', 240)]), [
      spring([amps('compressor_common', 12)]),
      autumn([volts('line_supply', 239)]),
    ]);
    expect(comparison?.before).toMatchObject({ day: '2025-10-03', value: 239 });
  });

  test('what a visit left behind counts before what it found: the repair is the baseline', () => {
    const [comparison] = lastGood(outdoorUnit([microfarads('capacitor_herm', 44)]), [
      spring([microfarads('capacitor_herm', 30), microfarads('capacitor_herm', 45, left)]),
    ]);
    expect(comparison).toMatchObject({ before: { value: 45, phase: 'left' } });
    expect(comparison?.statement).toContain('45.00 uF on 2026-04-12, after the work');
  });

  test('what was left today is not compared: it is what the work made of it', () => {
    expect(
      statements(
        [microfarads('capacitor_herm', 45, left)],
        spring([microfarads('capacitor_herm', 30)]),
      ),
    ).toEqual([]);
  });

  test('the latest of several readings counts on both days', () => {
    const [comparison] = lastGood(
      outdoorUnit([
        volts('line_supply', 230, { takenAt: '2026-07-14T15:20:00Z' }),
        volts('line_supply', 241, { takenAt: '2026-07-14T15:00:00Z' }),
      ]),
      [
        spring([
          volts('line_supply', 236, { takenAt: '2026-04-12T10:00:00Z' }),
          volts('line_supply', 238, { takenAt: '2026-04-12T11:00:00Z' }),
        ]),
      ],
    );
    expect(comparison).toMatchObject({ today: { value: 230 }, before: { value: 238 } });
  });

  test('what changed comes first, whatever it is', () => {
    const sameFirst = [microfarads('capacitor_herm', 45), volts('line_supply', 239)];
    const [changed, same] = lastGood(outdoorUnit([...sameFirst, amps('compressor_common', 18)]), [
      spring([...sameFirst, amps('compressor_common', 12)]),
    ]);
    expect(changed).toMatchObject({ point: 'compressor_common', changed: 'more' });
    expect(same).toMatchObject({ point: 'capacitor_herm', changed: 'same_within_uncertainty' });
  });

  const silent: [what: string, today: Sign[], earlier: EarlierVisit[]][] = [
    [
      'never measured before',
      [volts('line_supply', 240)],
      [spring([amps('compressor_common', 12)])],
    ],
    ['not measured today', [], [spring([volts('line_supply', 240)])]],
    ['no earlier visit', [volts('line_supply', 240)], []],
    [
      'only reported before',
      [volts('line_supply', 240)],
      [spring([volts('line_supply', 200, { source: 'reported' })])],
    ],
    [
      'measured before on another machine',
      [volts('line_supply', 240)],
      [spring([volts('line_supply', 200, { equipmentId: 'unit-9' })])],
    ],
    [
      'before only a reading that cannot be',
      [microfarads('capacitor_herm', 44)],
      [spring([microfarads('capacitor_herm', 4_500)])],
    ],
  ];
  test.each(silent)('nothing is said of what was %s', (_, today, earlier) => {
    expect(lastGood(outdoorUnit(today), earlier)).toEqual([]);
  });
});

describe('figures worked out of several readings are compared too', () => {
  test('a capacitance under load with one with the leads off', () => {
    // C = I / (2 x pi x 60 Hz x V): 4.1 A at 352 V are 30.90 uF.
    const [comparison] = lastGood(outdoorUnit(running('capacitor_herm', 4.1, 352)), [
      spring([microfarads('capacitor_herm', 45.2)]),
    ]);
    expect(comparison).toMatchObject({
      figure: 'capacitance',
      point: 'capacitor_herm',
      changed: 'less',
      today: { readingIds: ['r0', 'r1'] },
    });
    expect(comparison?.today.value).toBeCloseTo(30.9, 1);
  });

  test('superheat, only where both visits have it, and not from a circuit at rest', () => {
    const state = (psi: number, lineDegF: number): Sign[] => [
      psig('suction_port', psi),
      degF('suction_line', lineDegF),
    ];
    const unit = (signs: Sign[]) => outdoorUnit(signs, { refrigerant: 'R-410A' });
    const superheats = (today: Sign[], before: Sign[]) =>
      lastGood(unit(today), [visit('2026-04-12', unit(before))])
        .filter(({ figure }) => figure === 'superheat')
        .map(({ changed }) => changed);
    expect(superheats(state(118, 52), state(118, 70))).toEqual(['less']);
    expect(superheats(state(118, 52), state(118, 52))).toEqual(['same_within_uncertainty']);
    expect(superheats(state(118, 52), [psig('suction_port', 118)])).toEqual([]);
    const resting = [...state(118, 70), saw('compressor_running', 'no')];
    expect(superheats(state(118, 52), resting)).toEqual([]);
  });

  test('the temperature split, with the doubt of both thermometers of both days', () => {
    const air = (back: number, supply: number) =>
      airHandler([degF('return_air', back), degF('supply_air', supply)]);
    const split = lastGood(air(76, 66), [visit('2026-04-12', air(76, 57))]).find(
      ({ figure }) => figure === 'temperature_split',
    );
    expect(split).toMatchObject({ changed: 'less', difference: -9 });
    expect(split?.uncertainty).toBeCloseTo(Math.sqrt(4), 10);
    expect(split?.statement).toBe(
      'Temperature split of the air: 10.0 F today, 19.0 F on 2026-04-12: ' +
        "9.0 F less, more than the methods' 2.0 F.",
    );
  });
});

describe('laws of the comparison', () => {
  const uf = fc.double({ min: 5, max: 100, noNaN: true });
  test('swapping the days swaps more and less and keeps the size of the change', () => {
    fc.assert(
      fc.property(uf, uf, (a, b) => {
        const sign = (value: number) => [microfarads('capacitor_herm', value)];
        const [there] = lastGood(outdoorUnit(sign(a)), [spring(sign(b))]);
        const [back] = lastGood(outdoorUnit(sign(b)), [spring(sign(a))]);
        const opposite = { more: 'less', less: 'more', same_within_uncertainty: there?.changed };
        expect(back?.changed).toBe(opposite[there?.changed ?? 'same_within_uncertainty']);
        expect((back?.difference ?? 0) + (there?.difference ?? 1)).toBe(0);
        expect(back?.uncertainty).toBeCloseTo(there?.uncertainty ?? 0, 12);
      }),
    );
  });
});
