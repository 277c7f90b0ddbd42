import { expect, test } from 'vitest';
import {
  currentEvidenceRuleset,
  type Evidence,
  evidenceRulesets,
  type Verdict,
} from '../../../../src/trade/index.ts';
import {
  airHandler,
  amps,
  makeEvidence,
  outdoorUnit,
  type Sign,
  saw,
  volts,
} from '../../make-evidence.ts';

type Row = [name: string, signs: Sign[], standing: Verdict['standing'], reason: string];

const runs = saw('compressor_running');
const atUnit = (value: number) => volts('line_supply', value);
const before = (value: number) => volts('disconnect_line_side', value);
const lossless = [
  runs,
  volts('breaker', 0.08),
  volts('line_connection', 0.02),
  saw('line_connection_burnt', 'no'),
];

// The plate of this unit asks for 197 V at least; a multimeter of 1 % + 3 counts reads 196 V to 2.3 V.
const rows: Row[] = [
  ['nothing recorded', [], 'unproven', 'nothing recorded'],
  ['181 V at the unit', [atUnit(181)], 'supported', 'supported'],
  ['196 V cannot be told from 197 V', [atUnit(196)], 'unproven', 'undecided by this method'],
  [
    '183 V before the disconnect, the way there not looked at',
    [before(183)],
    'unproven',
    'undecided by this method',
  ],
  [
    '183 V before the disconnect, nothing on the way loses it',
    [before(183), ...lossless],
    'proven',
    'proven',
  ],
  [
    'the same through a worn breaker',
    [
      before(183),
      runs,
      volts('breaker', 3.1),
      volts('line_connection', 0.02),
      saw('line_connection_burnt', 'no'),
    ],
    'unproven',
    'undecided by this method',
  ],
  [
    'the same, a connection burnt',
    [before(183), ...lossless.slice(0, 3), saw('line_connection_burnt')],
    'unproven',
    'undecided by this method',
  ],
  [
    'the same, connections measured but not looked at',
    [before(183), ...lossless.slice(0, 3)],
    'unproven',
    'undecided by this method',
  ],
  [
    'the drops taken without a load',
    [before(183), ...lossless.slice(1)],
    'unproven',
    'undecided by this method',
  ],
  [
    '181 V while the compressor only hums',
    [atUnit(181), saw('compressor_hums')],
    'unproven',
    'undecided by this method',
  ],
  [
    '181 V while it draws 108 A, locked',
    [atUnit(181), amps('compressor_common', 108)],
    'unproven',
    'undecided by this method',
  ],
  [
    '181 V, it draws 17 A after a start of 108 A',
    [
      atUnit(181),
      amps('compressor_common', 17),
      amps('compressor_common', 108, { method: 'clamp_meter_inrush' }),
    ],
    'supported',
    'supported',
  ],
  ['241 V with the compressor running', [atUnit(241), runs], 'contradicted', 'contradicted'],
  [
    '241 V with only the fan running',
    [atUnit(241), saw('outdoor_fan_running')],
    'unproven',
    'undecided by this method',
  ],
  ['241 V with nothing running', [atUnit(241)], 'unproven', 'undecided by this method'],
  [
    '118 V: a leg is lost, no weak supply',
    [atUnit(118), before(118), ...lossless],
    'unproven',
    'looked for, no sign found',
  ],
  ['no voltage at all', [atUnit(0.4)], 'unproven', 'looked for, no sign found'],
  [
    'the lights dim, says the customer',
    [volts('line_supply', 181, { source: 'reported' })],
    'unproven',
    'nothing recorded',
  ],
];
test.each(rows)('low supply voltage: %s', (_name, signs, standing, reason) => {
  const verdict = weigh(outdoorUnit(signs));
  expect([verdict.standing, verdict.reason]).toEqual([standing, reason]);
});

const fanRuns = saw('indoor_fan_running');
test.each([
  [
    'a unit with its plate: 187 V are enough for it',
    outdoorUnit([atUnit(191), runs], { supplyVoltsMin: 187 }),
    'contradicted',
  ],
  [
    'a unit without a plate: the usual 187 V',
    outdoorUnit([atUnit(181)], { supplyVoltsMin: undefined, supplyVoltsMax: undefined }),
    'supported',
  ],
  [
    'a three-phase unit without a plate: unknown',
    outdoorUnit([atUnit(181)], { phase: 3, supplyVoltsMin: undefined, supplyVoltsMax: undefined }),
    'unproven',
  ],
  ['a furnace on 119 V', makeEvidence('furnace', {}, [atUnit(119), fanRuns]), 'contradicted'],
  ['a furnace on 96 V', makeEvidence('furnace', {}, [atUnit(96), fanRuns]), 'supported'],
  ['an air handler of unknown plate on 119 V', airHandler([atUnit(119), fanRuns]), 'unproven'],
  [
    'an air handler whose plate asks for 197 V, on 181 V',
    airHandler([atUnit(181)], { supplyVoltsMin: 197 }),
    'supported',
  ],
] as const)('each machine is judged by what it needs: %s', (_name, evidence, standing) => {
  expect(weigh(evidence).standing).toBe(standing);
});

test('the reason names whose limit it is', () => {
  expect(detailAt(outdoorUnit([atUnit(181)]))).toBe(
    '181.0 V measured by multimeter; the nameplate asks for at least 197.0 V; this method is good to 2.11 V.',
  );
  const noPlate = { supplyVoltsMin: undefined, supplyVoltsMax: undefined };
  expect(detailAt(outdoorUnit([atUnit(181)], noPlate))).toBe(
    '181.0 V measured by multimeter; the plate is not on record and a usual 208/230 V unit needs 187.0 V; this method is good to 2.11 V.',
  );
});

function detailAt(evidence: Evidence): string | undefined {
  return weigh(evidence).criteria.find(({ id }) => id === 'low_at_the_unit')?.detail;
}

function weigh(evidence: Evidence): Verdict {
  return evidenceRulesets[currentEvidenceRuleset].weigh('low_supply_voltage', evidence);
}
