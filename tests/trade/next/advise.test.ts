import { describe, expect, test } from 'vitest';
import {
  type Advice,
  assessSystem,
  checkWords,
  commonPriors,
  type Machine,
  type Priors,
  priorsFrom,
  type SystemEvidence,
} from '../../../src/trade/index.ts';
import {
  condenserNameplate,
  makeEvidence,
  microfarads,
  type Sign,
  saw,
  volts,
} from '../make-evidence.ts';

const airHandler: Machine = {
  id: 'inside',
  kind: 'air_handler',
  nameplate: { fanMotor: 'psc', capacitorBlowerUf: 10 },
};

describe('before anything is recorded', () => {
  const { suspects, nextChecks } = adviceOn([]);

  test('the common small things are suspected first', () => {
    const first = suspects.slice(0, 4).map(({ faultCode }) => faultCode);
    expect(first).toEqual(expect.arrayContaining(['run_capacitor_herm', 'plugged_drain']));
  });

  test('the first checks open nothing', () => {
    expect(nextChecks.slice(0, 3).map(({ care }) => care)).toEqual(['look', 'look', 'look']);
  });

  test('what is likely adds up to one, and something else is always among it', () => {
    expect(suspects.at(-1)?.share).toBeGreaterThan(0);
    expect(suspects.find(({ faultCode }) => faultCode === null)?.share).toBeGreaterThanOrEqual(
      0.02,
    );
    expect(suspects.reduce((sum, { share }) => sum + share, 0)).toBeLessThanOrEqual(1 + 1e-9);
  });
});

test('something else keeps two percent even where all signs agree', () => {
  const { suspects } = adviceOn([
    saw('compressor_hums'),
    saw('capacitor_herm_bulged_or_leaking', 'yes', { photoSha256: 'a'.repeat(64) }),
    microfarads('capacitor_herm', 11),
  ]);
  expect(suspects[0]).toMatchObject({ faultCode: 'run_capacitor_herm', standing: 'proven' });
  expect(suspects.find(({ faultCode }) => faultCode === null)?.share).toBeCloseTo(0.02, 9);
});

test('once a cause is proven nothing more is advised than what is due before it may be blamed', () => {
  const capacitor = adviceOn([saw('compressor_hums'), microfarads('capacitor_herm', 11)]);
  expect(capacitor.nextChecks).toEqual([]);
  // The contactor's coil voltage is due before a contactor is blamed.
  const contactor = adviceOn([
    saw('contactor_pulled_in'),
    saw('compressor_running', 'no'),
    volts('contactor_pole_1', 9.4),
  ]);
  expect(contactor.suspects[0]).toMatchObject({ faultCode: 'worn_contactor', standing: 'proven' });
  expect(contactor.nextChecks.map(({ code }) => code)).toEqual(['measure_contactor_coil']);
  expect(contactor.nextChecks[0]?.reason).toContain('Due before');
});

test('a compressor is never started with help before it was measured to ground', () => {
  const stalled = [
    saw('outdoor_fan_running'),
    saw('compressor_hums'),
    saw('compressor_running', 'no'),
    microfarads('capacitor_herm', 45.1),
    microfarads('capacitor_fan', 5),
    volts('line_supply', 240),
  ];
  const codes = (signs: Sign[]) => adviceOn(signs).nextChecks.map(({ code }) => code);
  expect(codes(stalled)).not.toContain('try_test_start_device');
  expect(codes(stalled)).toContain('measure_compressor_to_ground');
  expect(codes([...stalled, saw('compressor_to_ground_reads_open')])).toContain(
    'try_test_start_device',
  );
});

test('a contactor is never pushed in around an open pressure switch', () => {
  const { nextChecks } = adviceOn([
    saw('outdoor_fan_running', 'no'),
    saw('compressor_running', 'no'),
    saw('contactor_pulled_in', 'no'),
  ]);
  expect(nextChecks.map(({ code }) => code)).not.toContain('push_in_contactor');
});

test('what was answered is not asked again', () => {
  const { nextChecks } = adviceOn(
    checkWords.watch_outdoor_unit.observations.map((code) => saw(code, 'no')),
  );
  expect(nextChecks.map(({ code }) => code)).not.toContain('watch_outdoor_unit');
});

test('every check says what it takes, what it can do to a hand, and why, in one short sentence', () => {
  for (const signs of [[], [saw('outdoor_fan_running', 'no')], [saw('compressor_hums')]]) {
    for (const check of adviceOn(signs).nextChecks) {
      expect(check.reason).toMatch(/^(Tells|Narrows|Due)[^.]*\.( \d+ minutes?\.)?$/);
      expect(check.reason.length).toBeLessThan(140);
      expect(check.cautions.length > 0).toBe(check.care !== 'look');
      expect(check.needsCertificate).toBe(check.care === 'gauges');
    }
  }
});

test('a thing that either machine has is asked for each, by name; a package unit is asked once', () => {
  const asks = adviceOn([
    saw('outdoor_fan_running', 'no'),
    saw('compressor_running', 'no'),
  ]).nextChecks.filter(({ code }) => code === 'look_at_breaker');
  expect(asks.map(({ ask }) => ask)).toEqual(
    expect.arrayContaining([expect.stringMatching(/^Outdoor unit: /)]),
  );
  const packaged = makeEvidence('package_unit', condenserNameplate, []);
  const { nextChecks } = adviceOf({
    machines: [packaged.equipment],
    readings: [],
    observations: [],
  });
  const breakers = nextChecks.filter(({ code }) => code === 'look_at_breaker');
  expect(breakers.length).toBeLessThanOrEqual(1);
  for (const { ask } of nextChecks) expect(ask).not.toMatch(/^(Outdoor|Indoor) unit: /);
});

test('the company’s own closed tickets change what is suspected, from 500 on', () => {
  const shareOf = (priors: Priors) =>
    adviceOn([], priors).suspects.find(({ faultCode }) => faultCode === 'plugged_drain')?.share ??
    0;
  expect(shareOf(priorsFrom({ plugged_drain: 499 }))).toBe(shareOf(commonPriors));
  expect(shareOf(priorsFrom({ plugged_drain: 500 }))).toBeGreaterThan(2 * shareOf(commonPriors));
});

test('the order in which things were noted changes no advice', () => {
  const signs = [
    saw('compressor_hums'),
    saw('outdoor_fan_running'),
    volts('line_supply', 239),
    volts('contactor_coil', 25.1),
    saw('contactor_pulled_in'),
  ];
  expect(adviceOn([...signs].reverse()).suspects).toEqual(adviceOn(signs).suspects);
});

function adviceOn(signs: readonly Sign[], priors: Priors = commonPriors): Advice {
  const { equipment, readings, observations } = makeEvidence(
    'condensing_unit',
    condenserNameplate,
    signs,
  );
  return adviceOf({ machines: [equipment, airHandler], readings, observations }, priors);
}

function adviceOf(system: SystemEvidence, priors: Priors = commonPriors): Advice {
  return assessSystem(system, priors).advice;
}
