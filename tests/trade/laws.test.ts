import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  currentEvidenceRuleset,
  type Evidence,
  evidenceRulesets,
  type FaultCode,
  faultCodeSchema,
  methodCodeSchema,
  methodWords,
  observationCodeSchema,
  observationWords,
  pointCodeSchema,
  pointWords,
  quantitySchema,
  unitOfQuantity,
  type Verdict,
} from '../../src/trade/index.ts';
import {
  airHandler,
  condenserNameplate,
  makeEvidence,
  microfarads,
  outdoorUnit,
  running,
  type Sign,
  saw,
} from './make-evidence.ts';

const ruleset = evidenceRulesets[currentEvidenceRuleset];

/** Every quantity that any point can show, with a method that measures it. */
const readable = pointCodeSchema.options.flatMap((point) =>
  quantitySchema.options.flatMap((quantity) => {
    const range = pointWords[point].ranges[quantity];
    const method = methodCodeSchema.options.find((each) => quantity in methodWords[each].measures);
    return range === undefined || method === undefined ? [] : [{ point, quantity, range, method }];
  }),
);

const anyObservation: fc.Arbitrary<Sign> = fc
  .tuple(
    fc.constantFrom(...observationCodeSchema.options),
    fc.constantFrom('yes', 'no', 'unknown'),
    fc.constantFrom({}, { photoSha256: 'b'.repeat(64) }),
    fc.integer({ min: 0, max: 5 }),
  )
  .map(([code, answer, photo, minute]) => saw(code, answer, { ...photo, at: at(minute) }));

// Half of the figures are usual ones: far-off ones alone would seldom meet a limit.
const anyReading: fc.Arbitrary<Sign> = fc
  .tuple(
    fc.constantFrom(...readable),
    fc.double({ min: 0, max: 1, noNaN: true }),
    fc.boolean(),
    fc.integer({ min: 0, max: 5 }),
  )
  .map(([{ point, quantity, range, method }, share, isUsual, minute]) => {
    const { low, high } = isUsual ? { low: range.usualLow, high: range.usualHigh } : range;
    return {
      reading: {
        equipmentId: 'unit-1',
        point,
        quantity,
        value: low + share * (high - low),
        unit: unitOfQuantity[quantity],
        method,
        source: 'measured',
        phase: 'found',
        takenAt: at(minute),
      },
    };
  });

const anySign: fc.Arbitrary<Sign> = fc.oneof(anyObservation, anyReading);
const anySigns = fc.array(anySign, { maxLength: 30 });
/** What verdicts on charge and air rest on, beyond the electrical plate. */
const circuitPlate = {
  refrigerant: 'R-410A',
  meteringDevice: 'txv',
  stages: 1,
  tons: 3,
  targetSubcoolingDegF: 10,
  externalStaticMaxInWc: 0.5,
  transformerVa: 40,
  capacitorBlowerUf: 10,
  reversingValveOn: 'cooling',
} as const;
const anyUnit = fc.constantFrom(
  outdoorUnit,
  (signs: Sign[]) => airHandler(signs),
  (signs: Sign[]) => makeEvidence('heat_pump', { ...condenserNameplate, ...circuitPlate }, signs),
  (signs: Sign[]) =>
    makeEvidence('package_unit', { ...condenserNameplate, ...circuitPlate }, signs),
);
const anyFault = fc.constantFrom(...faultCodeSchema.options);

// How far each standing speaks for the fault.
const strength: Record<Verdict['standing'], number> = {
  not_applicable: 0,
  contradicted: 0,
  unproven: 1,
  supported: 2,
  proven: 3,
};

describe('a lower measured capacitance never weakens the standing of a weak capacitor', () => {
  const rated = fc.double({ min: 15, max: 100, noNaN: true });
  const tolerance = fc.constantFrom(3, 5, 6, 10, 15, undefined);
  const two = fc.tuple(
    fc.double({ min: 0, max: 1, noNaN: true }),
    fc.double({ min: 0, max: 1, noNaN: true }),
  );

  test('measured with the leads off', () => {
    fc.assert(
      fc.property(rated, tolerance, two, (ratedUf, tolerancePercent, [a, b]) => {
        const stands = (share: number) =>
          strengthOf([microfarads('capacitor_herm', ratedUf * share)], ratedUf, tolerancePercent);
        expect(stands(Math.min(a, b))).toBeGreaterThanOrEqual(stands(Math.max(a, b)));
      }),
      { numRuns: 2000 },
    );
  });

  // Below the display's own noise no current flows and nothing was measured: the law starts above.
  test('measured under load, wherever the meter can tell the current from none', () => {
    fc.assert(
      fc.property(rated, tolerance, two, (ratedUf, tolerancePercent, [a, b]) => {
        const ratedAmps = (370 * 2 * Math.PI * 60 * ratedUf) / 1e6;
        const stands = (share: number) => {
          const current = 0.04 + (ratedAmps - 0.04) * share;
          return strengthOf(running('capacitor_herm', current, 370), ratedUf, tolerancePercent);
        };
        expect(stands(Math.min(a, b))).toBeGreaterThanOrEqual(stands(Math.max(a, b)));
      }),
      { numRuns: 2000 },
    );
  });

  function strengthOf(
    signs: Sign[],
    ratedUf: number,
    tolerancePercent: number | undefined,
  ): number {
    const evidence = outdoorUnit(signs, {
      capacitorHermUf: ratedUf,
      capacitorTolerancePercent: tolerancePercent,
    });
    return strength[ruleset.weigh('run_capacitor_herm', evidence).standing];
  }
});

test('what is reported never changes a verdict, nor what is left behind, nor an unknown', () => {
  const spoil = fc.constantFrom<(sign: Sign) => Sign>(
    (sign) => change(sign, { source: 'reported' }, { source: 'reported' }),
    (sign) => change(sign, { phase: 'left' }, { phase: 'left' }),
    (sign) => change(sign, { equipmentId: 'unit-9' }, seenElsewhere(sign)),
    (sign) => change(sign, { value: 1e12 }, { answer: 'unknown' }),
  );
  // What is seen of the house is the same on whichever machine it was noted.
  const seenElsewhere = (sign: Sign) =>
    'observation' in sign && observationWords[sign.observation.code].about === 'house'
      ? ({ answer: 'unknown' } as const)
      : { equipmentId: 'unit-9' };
  fc.assert(
    fc.property(anyUnit, anySigns, anySign, spoil, (make, signs, extra, spoilIt) => {
      expect(ruleset.assess(make([...signs, spoilIt(extra)]))).toEqual(ruleset.assess(make(signs)));
    }),
    { numRuns: 1000 },
  );
});

test('the order in which readings and observations were written down changes nothing', () => {
  const shuffled = anySigns.chain((signs) => {
    const { readings, observations } = outdoorUnit(signs);
    return fc.tuple(
      fc.constant(outdoorUnit(signs)),
      fc.shuffledSubarray(readings, { minLength: readings.length }),
      fc.shuffledSubarray(observations, { minLength: observations.length }),
    );
  });
  fc.assert(
    fc.property(shuffled, ([evidence, readings, observations]) => {
      expect(ruleset.assess({ ...evidence, readings, observations })).toEqual(
        ruleset.assess(evidence),
      );
    }),
    { numRuns: 1000 },
  );
});

test('what comes to speak for a fault, with nothing more against it, never lowers it', () => {
  const met = (verdict: Verdict, direction: 'for' | 'against') =>
    verdict.criteria
      .filter((each) => each.direction === direction && each.outcome === 'met')
      .map(({ id, weight }) => `${id} ${weight}`);
  const raised = new Set<FaultCode>();
  fc.assert(
    fc.property(anyUnit, anySigns, anySign, (make, signs, extra) => {
      const before = ruleset.assess(make(signs));
      const after = ruleset.assess(make([...signs, extra]));
      for (const [index, verdict] of after.entries()) {
        const earlier = before[index];
        if (earlier === undefined) continue;
        const [had, has] = [met(earlier, 'for'), met(verdict, 'for')];
        const isMore = had.every((each) => has.includes(each)) && has.length > had.length;
        const isSame = met(verdict, 'against').join() === met(earlier, 'against').join();
        if (!isMore || !isSame) continue;
        raised.add(verdict.faultCode);
        expect(strength[verdict.standing], verdict.faultCode).toBeGreaterThanOrEqual(
          strength[earlier.standing],
        );
      }
    }),
    { numRuns: 1500 },
  );
  // The draw reaches most of the catalog; else the law would hold of nothing.
  expect(raised.size).toBeGreaterThan(30);
});

test('a breaker, a fuse or a switch is never a proven cause, whatever is recorded', () => {
  const switches: FaultCode[] = ['weak_breaker', 'wrong_breaker_size', 'failed_float_switch'];
  fc.assert(
    fc.property(anyUnit, anySigns, (make, signs) => {
      const standings = ruleset
        .assess(make(signs))
        .filter(({ faultCode }) => switches.includes(faultCode))
        .map(({ standing }) => standing);
      expect(standings).not.toContain('proven');
    }),
    { numRuns: 1000 },
  );
});

test('no verdict is proven or supported without naming what it rests on', () => {
  fc.assert(
    fc.property(anyUnit, anySigns, anyFault, (make, signs, fault) => {
      const verdict = ruleset.weigh(fault, make(signs));
      const grounds = verdict.criteria.filter(
        (each) => each.outcome === 'met' && each.direction === 'for',
      );
      const rests = grounds.every(
        (each) => each.readingIds.length + each.observationIds.length > 0,
      );
      if (verdict.standing === 'proven' || verdict.standing === 'supported') {
        expect(grounds.length).toBeGreaterThan(0);
      }
      expect(rests).toBe(true);
    }),
    { numRuns: 1000 },
  );
});

test('every fault gets its verdict in every assessment', () => {
  const codes = (evidence: Evidence) => ruleset.assess(evidence).map((each) => each.faultCode);
  expect(codes(outdoorUnit([]))).toEqual(faultCodeSchema.options);
  expect(codes(airHandler([]))).toEqual(faultCodeSchema.options);
});

function change(
  sign: Sign,
  readingFields: Partial<Extract<Sign, { reading: unknown }>['reading']>,
  observationFields: Partial<Extract<Sign, { observation: unknown }>['observation']>,
): Sign {
  if ('reading' in sign) return { reading: { ...sign.reading, ...readingFields } };
  return { observation: { ...sign.observation, ...observationFields } };
}

function at(minute: number): string {
  return `2026-07-14T15:0${minute}:00Z`;
}

test('what was seen on no machine in particular proves nothing of any', () => {
  for (const code of observationCodeSchema.options) {
    for (const answer of ['yes', 'no'] as const) {
      const evidence = outdoorUnit([saw(code, answer, { photoSha256: 'b'.repeat(64) })]);
      const observations = evidence.observations.map(({ equipmentId: _, ...rest }) => rest);
      const verdicts = ruleset.assess({ ...evidence, observations });
      const standings = verdicts.map(({ standing }) => standing);
      expect(standings, code).not.toContain('proven');
      expect(standings, code).not.toContain('supported');
    }
  }
});
