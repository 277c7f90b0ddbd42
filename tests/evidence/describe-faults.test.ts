import { expect, test } from 'vitest';
import { describeFaults } from '../../src/evidence/describe-faults.ts';
import {
  currentEvidenceRuleset,
  evidenceRulesets,
  faultCatalog,
  nameplateSchema,
} from '../../src/trade/index.ts';

const { weigh } = evidenceRulesets[currentEvidenceRuleset];

/** Every plate that can be made of the motors and the metering device, with and without a target. */
const plates = [undefined, 'psc', 'ecm'].flatMap((fanMotor) =>
  [undefined, 'psc', 'csr', 'three_phase', 'inverter'].flatMap((compressorMotor) =>
    [undefined, 'fixed_orifice', 'txv', 'eev'].flatMap((meteringDevice) =>
      [undefined, 10].map((targetSubcoolingDegF) =>
        nameplateSchema.parse({ fanMotor, compressorMotor, meteringDevice, targetSubcoolingDegF }),
      ),
    ),
  ),
);

test('whatever a machine has on its plate, every sign that is weighed on it is in the catalog', () => {
  const described = new Map(describeFaults().map(({ code, criteria }) => [code, criteria]));
  const weighed = new Set<string>();
  const listed = new Set<string>();
  for (const { code, kinds } of faultCatalog) {
    for (const head of described.get(code) ?? []) listed.add(JSON.stringify({ code, ...head }));
    for (const equipment of [
      ...kinds.map((kind) => ({ id: 'any', kind, nameplate: {} })),
      ...plates.map((nameplate) => ({ id: 'any', kind: kinds[0] ?? 'furnace', nameplate })),
    ]) {
      const verdict = weigh(code, { equipment, readings: [], observations: [] });
      for (const { id, statement, direction, weight } of verdict.criteria) {
        weighed.add(JSON.stringify({ code, id, statement, direction, weight }));
      }
    }
  }
  expect(weighed.size).toBeGreaterThan(200);
  expect([...weighed].filter((each) => !listed.has(each))).toEqual([]);
  expect([...listed].filter((each) => !weighed.has(each))).toEqual([]);
});
