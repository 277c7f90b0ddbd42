import { describe, expect, test } from 'vitest';
import {
  assessSystem,
  commonPriors,
  type Machine,
  type SystemEvidence,
} from '../../../src/trade/index.ts';
import { clues, waysOf } from '../../../src/trade/next/likelihood.ts';
import { posterior } from '../../../src/trade/next/posterior.ts';
import { suspectRows } from '../../../src/trade/next/suspect-rows.ts';
import type { Suspect } from '../../../src/trade/next/suspects.ts';
import { condenserNameplate, makeEvidence, type Sign, saw } from '../make-evidence.ts';

const machine: Machine = { id: 'unit-1', kind: 'condensing_unit', nameplate: {} };

// Two suspects, equally common, and something else a tenth as likely as both together.
const [lug] = waysOf('open_disconnect');
const [drain] = waysOf('plugged_drain');
const suspects: Suspect[] = [
  {
    fault: 'open_disconnect',
    way: lug?.number ?? -1,
    machine,
    side: 'outdoor',
    seat: 0,
    prior: 0.45,
  },
  {
    fault: 'plugged_drain',
    way: drain?.number ?? -1,
    machine,
    side: 'outdoor',
    seat: 1,
    prior: 0.45,
  },
  { fault: 'something_else', seat: 2, prior: 0.1 },
];
const rows = suspectRows(suspects, true);

function clue(code: string, shown: number) {
  const found = clues.find((each) => each.code === code);
  if (found === undefined) throw new Error(`no clue ${code}`);
  return { clue: found, side: 'outdoor' as const, shown, isSpent: false };
}

describe('Bayes’ rule, worked by hand', () => {
  test('without a clue everything is as common as before', () => {
    const shares = posterior(suspects, rows, [], new Map()).map(({ share }) => share);
    expect(shares).toEqual([
      expect.closeTo(0.45, 9),
      expect.closeTo(0.45, 9),
      expect.closeTo(0.1, 9),
    ]);
  });

  // The disconnect found off: 0.98 of the times with that fault, 0.01 with anything else (before a
  // share of at least 0.002 is kept for each answer). 0.45*0.98 = 0.441, 0.45*0.01 = 0.0045,
  // 0.1*0.01 = 0.001; the sum is 0.4465, so 0.98768, 0.01008 and 0.00224: something else is lifted
  // to its 0.02, and the others keep 0.98 in their proportion.
  test('one telling clue', () => {
    const [first, second, other] = posterior(
      suspects,
      rows,
      [clue('disconnect_found_open', 0)],
      new Map(),
    );
    expect(other?.share).toBeCloseTo(0.02, 9);
    expect(first?.share).toBeCloseTo((0.98 * 0.441) / 0.4455, 6);
    expect(second?.share).toBeCloseTo((0.98 * 0.0045) / 0.4455, 6);
  });

  test('a contradicted fault falls a hundredfold, a proven cause rises as much, a proven symptom stays', () => {
    const ratio = (
      fault: 'open_disconnect' | 'plugged_drain',
      standing: 'proven' | 'contradicted',
    ) => {
      const verdict = { faultCode: fault, standing, reason: '', doubts: [], criteria: [] };
      const [disconnect, plugged] = posterior(suspects, rows, [], new Map([['unit-1', [verdict]]]));
      const [own, rival] =
        fault === 'open_disconnect' ? [disconnect, plugged] : [plugged, disconnect];
      return (own?.share ?? 0) / (rival?.share ?? 1);
    };
    expect(ratio('plugged_drain', 'contradicted')).toBeCloseTo(0.01, 6);
    expect(ratio('plugged_drain', 'proven')).toBeCloseTo(100, 6);
    expect(ratio('open_disconnect', 'proven')).toBeCloseTo(1, 6);
    expect(ratio('open_disconnect', 'contradicted')).toBeCloseTo(0.01, 6);
  });
});

describe('on a whole system', () => {
  const indoors: Machine = { id: 'inside', kind: 'air_handler', nameplate: {} };
  const shareOf = (signs: readonly Sign[], faultCode: string, equipmentId: string) => {
    const { equipment, readings, observations } = makeEvidence(
      'condensing_unit',
      condenserNameplate,
      signs,
    );
    const system: SystemEvidence = { machines: [equipment, indoors], readings, observations };
    const { suspects: shown } = assessSystem(system, commonPriors).advice;
    return (
      shown.find((each) => each.faultCode === faultCode && each.equipmentId === equipmentId)
        ?.share ?? 0
    );
  };

  test('the breaker of one machine found tripped says nothing of the other’s', () => {
    const tripped = [saw('breaker_found_tripped', 'yes', { equipmentId: 'unit-1' })];
    expect(shareOf(tripped, 'tripped_breaker', 'unit-1')).toBeGreaterThan(0.5);
    expect(shareOf(tripped, 'tripped_breaker', 'inside')).toBeLessThan(0.05);
  });

  test('what cannot be on a machine is not suspected there', () => {
    const inverter = makeEvidence('mini_split', { compressorMotor: 'inverter' }, []);
    const { suspects: shown } = assessSystem(
      { machines: [inverter.equipment], readings: [], observations: [] },
      commonPriors,
    ).advice;
    const codes = shown.map(({ faultCode }) => faultCode);
    expect(codes).not.toContain('run_capacitor_herm');
    expect(codes).not.toContain('worn_contactor');
  });

  test('something else is one call in twenty before anybody looks, whatever the machines', () => {
    for (const kind of ['condensing_unit', 'furnace', 'evaporator_coil', 'mini_split'] as const) {
      const { equipment } = makeEvidence(kind, {}, []);
      const { suspects: shown } = assessSystem(
        { machines: [equipment], readings: [], observations: [] },
        commonPriors,
      ).advice;
      expect(shown.find(({ faultCode }) => faultCode === null)?.share, kind).toBeCloseTo(0.05, 9);
    }
  });
});
