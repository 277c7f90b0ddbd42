import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { admitEvidence } from '../../../src/trade/facts/admit-evidence.ts';
import type { Settled } from '../../../src/trade/facts/measured.ts';
import {
  condensingOverAmbientOf,
  returnOverSuctionOf,
  subcoolingOf,
  suctionSaturationOf,
  superheatOf,
} from '../../../src/trade/facts/refrigerant-state.ts';
import { type Nameplate, readingUncertainty } from '../../../src/trade/index.ts';
import { degF, pipeDegF, psig } from '../make-circuit.ts';
import { outdoorUnit, type Sign, saw } from '../make-evidence.ts';

const suction = (value: number, minute = 0) => psig('suction_port', value, minute);
const liquid = (value: number, minute = 0) => psig('liquid_port', value, minute);
const suctionLine = (value: number, minute = 0) => pipeDegF('suction_line', value, minute);

function facts(signs: Sign[], nameplate: Partial<Nameplate> = { refrigerant: 'R-410A' }) {
  return admitEvidence(outdoorUnit(signs, nameplate));
}

function shownBy(settled: Settled): number {
  return settled.kind === 'settled' ? settled.measured.value : Number.NaN;
}

function doubtOf(settled: Settled): number {
  return settled.kind === 'settled' ? settled.measured.uncertainty : Number.NaN;
}

// Saturation at sea level by published equations of state: R-410A dew at 130.1 psig is 45 F and its
// bubble at 366.4 psig is 110 F; R-407C dew at 70.7 psig is 45 F, its bubble there 34 F.
describe('the state of the circuit comes from pressure and temperature of the same minutes', () => {
  test.each([
    ['R-410A, 130.1 psig, line 57 F', 'R-410A', 130.1, 57, 12],
    ['R-407C on its dew line, not its bubble line', 'R-407C', 70.7, 55, 10],
    ['a plate that writes it without the hyphen', 'R410A', 130.1, 40, -5],
  ])('superheat: %s', (_name, refrigerant, pressure, line, expected) => {
    const settled = superheatOf(facts([suction(pressure), suctionLine(line)], { refrigerant }));
    expect(shownBy(settled)).toBeCloseTo(expected, 1);
  });

  test('subcooling, condensing over the outdoor air, return air over suction', () => {
    const all = facts([
      suction(130.1),
      liquid(366.4),
      pipeDegF('liquid_line', 98),
      degF('outdoor_air', 95),
      degF('return_air', 76),
    ]);
    expect(shownBy(subcoolingOf(all))).toBeCloseTo(12, 1);
    expect(shownBy(condensingOverAmbientOf(all))).toBeCloseTo(15, 1);
    expect(shownBy(returnOverSuctionOf(all))).toBeCloseTo(31, 1);
    expect(shownBy(suctionSaturationOf(all))).toBeCloseTo(45, 1);
  });

  // 118.0 psig under the 12.228 psia of 5,000 ft: dew 38.75 F, where sea level has 39.8 F.
  test('the gauge is read against the air of the site', () => {
    const evidence = outdoorUnit([suction(118)], { refrigerant: 'R-410A' });
    const settled = suctionSaturationOf(admitEvidence({ ...evidence, altitudeFt: 5000 }));
    expect(shownBy(settled)).toBeCloseTo(38.75, 1);
  });

  // 0.5 % of 130.1 and five counts of 0.1 are 1.15 psi, at 0.412 F/psi 0.474 F; the clamp 1.3 F.
  test('the doubts of gauge and clamp both count', () => {
    const settled = superheatOf(facts([suction(130.1), suctionLine(57)]));
    expect(doubtOf(settled)).toBeCloseTo(Math.hypot(0.474, 1.3), 2);
  });
});

describe('where the readings give no figure, it says what to do', () => {
  const pair = [suction(130), suctionLine(57)];
  const rows: [string, Settled, string][] = [
    [
      'no refrigerant on the plate',
      superheatOf(facts(pair, {})),
      'Record the refrigerant from the nameplate of the machine that holds the compressor.',
    ],
    [
      'a refrigerant we do not know',
      superheatOf(facts(pair, { refrigerant: 'R-404A' })),
      'The nameplate names R-404A, whose pressures are not in our tables.',
    ],
    [
      'half an hour between the two',
      superheatOf(facts([suction(130), suctionLine(57, 30)])),
      'Pressure and temperature must be taken within 15 minutes of each other; measure again.',
    ],
    [
      'a pressure that R-134a never has here',
      superheatOf(facts([suction(400), suctionLine(57)], { refrigerant: 'R-134a' })),
      '400 psi is outside the table of R-134a; look whether gauge and refrigerant are right.',
    ],
    [
      'the compressor stands still',
      superheatOf(facts([...pair, saw('compressor_running', 'no')])),
      'The compressor was not running, and pressures at rest say nothing of this; measure while it runs.',
    ],
    [
      'no line temperature',
      superheatOf(facts([suction(130)])),
      'Measure the temperature too: suction line at the outdoor unit.',
    ],
  ];
  test.each(rows)('%s', (_name, settled, why) => {
    expect(settled).toMatchObject({ kind: 'unusable', why });
  });

  test('without a gauge nothing was read', () => {
    expect(superheatOf(facts([suctionLine(57)])).kind).toBe('none');
    expect(suctionSaturationOf(facts([])).kind).toBe('none');
  });

  test('two superheats far apart disagree', () => {
    const signs = [suction(130, 0), suctionLine(57, 0), suction(100, 20), suctionLine(57, 20)];
    expect(superheatOf(facts(signs)).kind).toBe('disagree');
  });
});

test('each pressure goes with the temperature taken nearest to it', () => {
  const signs = [suctionLine(80, 0), suction(130.1, 10), suctionLine(57, 12)];
  expect(shownBy(superheatOf(facts(signs)))).toBeCloseTo(12, 1);
});

test('superheat rises with the line and falls with the pressure, everywhere in the table', () => {
  const pressure = fc.double({ min: 60, max: 250, noNaN: true });
  const line = fc.double({ min: 0, max: 120, noNaN: true });
  fc.assert(
    fc.property(pressure, line, (value, lineDegF) => {
      const at = (psi: number, degrees: number) =>
        shownBy(superheatOf(facts([suction(psi), suctionLine(degrees)])));
      expect(at(value, lineDegF + 1) - at(value, lineDegF)).toBeCloseTo(1, 6);
      expect(at(value + 1, lineDegF)).toBeLessThan(at(value, lineDegF));
    }),
  );
});

test('a derived figure is never better than the worse of its two readings', () => {
  const pressure = fc.double({ min: 60, max: 250, noNaN: true });
  fc.assert(
    fc.property(pressure, (value) => {
      const settled = superheatOf(facts([suction(value), suctionLine(57)]));
      const clamp = readingUncertainty({
        quantity: 'temperature',
        value: 57,
        method: 'pipe_clamp_thermometer',
      });
      expect(doubtOf(settled)).toBeGreaterThan(clamp);
    }),
  );
});
