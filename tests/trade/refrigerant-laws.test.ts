import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  currentEvidenceRuleset,
  type Evidence,
  evidenceRulesets,
  type FaultCode,
} from '../../src/trade/index.ts';
import { atmospherePsia } from '../../src/trade/refrigerant/atmosphere.ts';
import { refrigerantCodeSchema } from '../../src/trade/refrigerant/refrigerants.ts';
import { type Circuit, circuitPlate, circuitReadings } from './circuit-readings.ts';
import { outdoorUnit, type Sign, saw } from './make-evidence.ts';

const { weigh } = evidenceRulesets[currentEvidenceRuleset];
const filterClean = saw('filter_dirty', 'no');
const charges: FaultCode[] = ['low_charge', 'overcharge'];

const anyRefrigerant = fc.constantFrom(...refrigerantCodeSchema.options);
const anyMetering = fc.constantFrom('txv', 'fixed_orifice', 'eev', undefined);
const degrees = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const anyCircuit: fc.Arbitrary<Partial<Circuit>> = fc.record({
  refrigerant: anyRefrigerant,
  outdoorDegF: degrees(45, 110),
  returnDegF: degrees(70, 80),
  wetBulbDegF: degrees(58, 68),
  evaporatingDegF: degrees(20, 60),
  condensingDegF: degrees(90, 140),
  superheatDegF: degrees(-5, 40),
  subcoolingDegF: degrees(-5, 30),
  splitDegF: degrees(0, 30),
  drierDropDegF: degrees(0, 10),
});

const strength = { not_applicable: 0, contradicted: 0, unproven: 1, supported: 2, proven: 3 };

function plateFor(
  { refrigerant }: Partial<Circuit>,
  metering: 'txv' | 'fixed_orifice' | 'eev' | undefined,
) {
  const isValve = metering === 'txv' || metering === 'eev';
  return {
    ...circuitPlate,
    refrigerant,
    meteringDevice: metering,
    targetSubcoolingDegF: isValve ? 10 : undefined,
  };
}

/** The same readings, the one pressure moved. */
function withPressure(
  signs: readonly Sign[],
  point: 'suction_port' | 'liquid_port',
  psi: number,
): Sign[] {
  return signs.map((sign) =>
    'reading' in sign && sign.reading.point === point
      ? { reading: { ...sign.reading, value: sign.reading.value + psi } }
      : sign,
  );
}

/** How far the signs for a low charge reach by readings alone: not met, undecided, met. */
function isMet(evidence: Evidence, fault: FaultCode, id: string): boolean {
  return weigh(fault, evidence).criteria.some((each) => each.id === id && each.outcome === 'met');
}

describe('laws of the charge', () => {
  test('more suction pressure at the same line temperature never proves a low charge anew', () => {
    fc.assert(
      fc.property(anyCircuit, anyMetering, degrees(0, 40), (circuit, metering, more) => {
        const signs = [...circuitReadings(circuit), filterClean];
        const plate = plateFor(circuit, metering);
        const before = outdoorUnit(signs, plate);
        const after = outdoorUnit(withPressure(signs, 'suction_port', more), plate);
        for (const id of ['low_by_all_readings', 'low_pattern', 'charge_test_low']) {
          fc.pre(!isMet(before, 'low_charge', id));
          expect(isMet(after, 'low_charge', id)).toBe(false);
        }
      }),
      { numRuns: 400 },
    );
  });

  test('a colder liquid line never makes a low charge more likely to be proven', () => {
    fc.assert(
      fc.property(anyCircuit, degrees(0, 20), (circuit, more) => {
        const subcooling = circuit.subcoolingDegF ?? 10;
        const stands = (subcoolingDegF: number) =>
          weigh(
            'low_charge',
            outdoorUnit(
              [...circuitReadings({ ...circuit, subcoolingDegF }), filterClean],
              plateFor(circuit, 'txv'),
            ),
          ).standing;
        const before = stands(subcooling);
        expect(strength[stands(subcooling + more)]).toBeLessThanOrEqual(
          Math.max(strength[before], strength.unproven),
        );
      }),
      { numRuns: 400 },
    );
  });

  test('no reading shows too much and too little refrigerant at once', () => {
    fc.assert(
      fc.property(anyCircuit, anyMetering, (circuit, metering) => {
        const evidence = outdoorUnit(
          [...circuitReadings(circuit), filterClean],
          plateFor(circuit, metering),
        );
        const found = charges.filter((fault) =>
          ['proven', 'supported'].includes(weigh(fault, evidence).standing),
        );
        expect(found.length).toBeLessThan(2);
      }),
      { numRuns: 400 },
    );
  });

  test('a metering device that nobody recorded proves and denies nothing of the charge', () => {
    fc.assert(
      fc.property(anyCircuit, (circuit) => {
        const evidence = outdoorUnit(
          [...circuitReadings(circuit), filterClean],
          plateFor(circuit, undefined),
        );
        for (const fault of charges) expect(weigh(fault, evidence).standing).toBe('unproven');
      }),
      { numRuns: 150 },
    );
  });

  test('below 55 F outdoors no reading of the circuit tells anything of the charge', () => {
    fc.assert(
      fc.property(anyCircuit, anyMetering, degrees(35, 54), (circuit, metering, outdoorDegF) => {
        const evidence = outdoorUnit(
          [...circuitReadings({ ...circuit, outdoorDegF }), filterClean],
          plateFor(circuit, metering),
        );
        for (const fault of charges) expect(weigh(fault, evidence).standing).toBe('unproven');
      }),
      { numRuns: 150 },
    );
  });

  // What counts is absolute: 2,500 to 7,000 ft take 1.3 to 3.3 psi off what a gauge shows at the sea.
  test('the same circuit is judged the same at any altitude', () => {
    fc.assert(
      fc.property(anyCircuit, degrees(0, 7_000), (circuit, altitudeFt) => {
        fc.pre(isFarFromLimits(circuit));
        const at = (feet: number) => ({
          ...outdoorUnit(
            [...circuitReadings({ ...circuit, altitudeFt: feet }), filterClean],
            plateFor(circuit, 'txv'),
          ),
          altitudeFt: feet,
        });
        for (const fault of charges) {
          expect(weigh(fault, at(altitudeFt)).standing).toBe(weigh(fault, at(0)).standing);
        }
      }),
      { numRuns: 200 },
    );
    expect(atmospherePsia(7_000)).toBeLessThan(atmospherePsia(0));
  });
});

/** The doubt of a gauge grows with what it shows, so a figure at the rim of a limit may tip over. */
function isFarFromLimits({
  superheatDegF = 0,
  subcoolingDegF = 0,
  condensingDegF = 0,
  outdoorDegF = 0,
  evaporatingDegF = 0,
  returnDegF = 0,
}: Partial<Circuit>): boolean {
  const figures: [value: number, limits: number[], doubt: number][] = [
    [superheatDegF, [4, 25], 1.35],
    [subcoolingDegF, [7, 13], 1.35],
    [condensingDegF - outdoorDegF, [15, 20], 1.15],
    [returnDegF - evaporatingDegF, [30, 40], 1.15],
  ];
  return figures.every(([value, limits, doubt]) =>
    limits.every((limit) => Math.abs(Math.abs(value - limit) - doubt) > 0.45),
  );
}

test('R-407C read on the wrong line would be judged wrong: dew for superheat, bubble for subcooling', () => {
  const plate = { ...circuitPlate, refrigerant: 'R-407C' };
  const sound = outdoorUnit([...circuitReadings({ refrigerant: 'R-407C' }), filterClean], plate);
  for (const fault of charges) expect(weigh(fault, sound).standing).toBe('contradicted');
  // On the bubble line the suction would boil 11 F colder, on the dew line the head 8 F hotter.
  const { criteria } = weigh('low_charge', sound);
  expect(criteria.find(({ id }) => id === 'charge_test_passed')?.detail).toContain(
    '12.0 F measured by gauge and thermometer, superheat',
  );
});
