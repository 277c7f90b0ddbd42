import { describe, expect, test } from 'vitest';
import { admitEvidence } from '../../../src/trade/facts/admit-evidence.ts';
import type { Nameplate } from '../../../src/trade/index.ts';
import { readSign } from '../../../src/trade/signs/read-sign.ts';
import type { SignCode } from '../../../src/trade/words/signs.ts';
import {
  type Circuit,
  circuitPlate,
  circuitReadings,
  clamp,
  lineSetFt,
  ounces,
} from '../circuit-readings.ts';
import { outdoorUnit, psig, type Sign, saw } from '../make-evidence.ts';

function shown(code: SignCode, signs: readonly Sign[], plate: Partial<Nameplate> = {}) {
  return readSign(code, admitEvidence(outdoorUnit(signs, { ...circuitPlate, ...plate })));
}

const orifice = { meteringDevice: 'fixed_orifice', targetSubcoolingDegF: undefined } as const;
const unknown = { meteringDevice: undefined, targetSubcoolingDegF: undefined } as const;

describe('a state of the circuit is put into its class, or into none where nobody can tell', () => {
  // Return air 76 F: 30 to 40 F above the suction is usual. Outdoors 95 F, 15 SEER: 15 to 20 F.
  test.each<[SignCode, Partial<Circuit>, string | undefined, Partial<Nameplate>?]>([
    ['suction', { evaporatingDegF: 41 }, 'fine'],
    ['suction', { evaporatingDegF: 30 }, 'low'],
    ['suction', { evaporatingDegF: 50 }, 'high'],
    ['suction', { evaporatingDegF: 36.5 }, undefined],
    ['head', { condensingDegF: 112.5 }, 'fine'],
    ['head', { condensingDegF: 106 }, 'low'],
    ['head', { condensingDegF: 121 }, 'high'],
    ['head', { condensingDegF: 121 }, 'fine', { seer: undefined }],
    ['superheat', { superheatDegF: 12 }, 'fine'],
    ['superheat', { superheatDegF: 2 }, 'low'],
    ['superheat', { superheatDegF: 30 }, 'high'],
    ['superheat', { superheatDegF: 4.5 }, undefined],
    ['superheat', { superheatDegF: 12 }, undefined, unknown],
    // 67 F wet bulb, 95 F outdoors: the published target is 12 F, within 5 F.
    ['superheat', { superheatDegF: 12, wetBulbDegF: 67 }, 'fine', orifice],
    ['superheat', { superheatDegF: 22, wetBulbDegF: 67 }, 'high', orifice],
    ['superheat', { superheatDegF: 2, wetBulbDegF: 67 }, 'low', orifice],
    ['superheat', { superheatDegF: 12, wetBulbDegF: 58 }, undefined, orifice],
    ['subcooling', { subcoolingDegF: 10 }, 'fine'],
    ['subcooling', { subcoolingDegF: 4 }, 'low'],
    ['subcooling', { subcoolingDegF: 16 }, 'high'],
    ['subcooling', { subcoolingDegF: 16 }, 'fine', orifice],
    ['subcooling', { subcoolingDegF: 10 }, undefined, unknown],
  ])('%s of %j: %s', (code, change, expected, plate) => {
    expect(shown(code, circuitReadings(change), plate)).toBe(expected);
  });

  test('without the return air only a suction that no house explains is low or high', () => {
    // R-410A dew: 95 psig is 28.9 F, 130.1 psig is 45 F, 165 psig is 58 F.
    expect(shown('suction', [psig('suction_port', 95)])).toBe('low');
    expect(shown('suction', [psig('suction_port', 130.1)])).toBe('fine');
    expect(shown('suction', [psig('suction_port', 165)])).toBe('high');
  });

  test.each<[string, Sign]>([
    ['at rest', saw('compressor_running', 'no')],
    ['iced', saw('ice_on_coil_or_line')],
    ['of another refrigerant', saw('wrong_refrigerant_marked')],
  ])('a circuit %s shows nothing', (_name, sign) => {
    expect(shown('superheat', [...circuitReadings(), sign])).toBeUndefined();
  });

  test('the weather below 55 F lets no charge be judged', () => {
    const cold = circuitReadings({ outdoorDegF: 48, condensingDegF: 68 });
    expect(shown('subcooling', cold)).toBeUndefined();
  });
});

describe('drier and scale', () => {
  test.each<[string, SignCode, Sign[], string | undefined]>([
    [
      '9 F',
      'filter_drier_drop',
      [clamp('filter_drier_in', 97), clamp('filter_drier_out', 88)],
      'high',
    ],
    [
      '4 F',
      'filter_drier_drop',
      [clamp('filter_drier_in', 97), clamp('filter_drier_out', 93)],
      undefined,
    ],
    [
      '0 F',
      'filter_drier_drop',
      [clamp('filter_drier_in', 97), clamp('filter_drier_out', 97)],
      'fine',
    ],
    ['80 oz of 116', 'charge', [ounces(80), lineSetFt(35)], 'low'],
    ['116 oz', 'charge', [ounces(116), lineSetFt(35)], 'fine'],
    ['150 oz', 'charge', [ounces(150), lineSetFt(35)], 'over'],
    ['104 oz, near the limit', 'charge', [ounces(104.4), lineSetFt(35)], undefined],
    ['without the line set', 'charge', [ounces(80)], undefined],
  ])('%s', (_name, code, signs, expected) => {
    expect(shown(code, signs)).toBe(expected);
  });
});
