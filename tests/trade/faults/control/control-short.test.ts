import { expect, test } from 'vitest';
import {
  currentEvidenceRuleset,
  evidenceRulesets,
  type Verdict,
} from '../../../../src/trade/index.ts';
import { airHandler, ohms, type Sign, saw, volts, withPhoto } from '../../make-evidence.ts';

const cable = (value: number) => ohms('control_cable', value);
const damagedPhoto = saw('control_wire_damaged', 'yes', withPhoto);
const fuseOpen = saw('control_fuse_reads_open');

// A multimeter of 0.9 % + 2 counts of 0.1 ohm reads 2 ohm to 0.218 ohm.
const rows: [name: string, signs: Sign[], standing: Verdict['standing'], reason: string][] = [
  ['nothing recorded', [], 'unproven', 'nothing recorded'],
  ['0.4 ohm from wire to wire', [cable(0.4)], 'proven', 'proven'],
  ['1.9 ohm cannot be told from 2 ohm', [cable(1.9)], 'unproven', 'undecided by this method'],
  ['a coil of 14 ohm is no short', [cable(14)], 'unproven', 'leans against'],
  ['an open fuse alone shows no short', [fuseOpen], 'unproven', 'nothing recorded'],
  [
    'a wire rubbed bare, on a photo, behind an open fuse',
    [damagedPhoto, fuseOpen],
    'proven',
    'proven',
  ],
  [
    'the same, shown by the voltage across the fuse',
    [damagedPhoto, volts('control_fuse', 26)],
    'proven',
    'proven',
  ],
  [
    'the same, the outdoor cable being sound',
    [damagedPhoto, fuseOpen, cable(1_000_000)],
    'unproven',
    'signs disagree',
  ],
  [
    'the same, the outdoor cable reading open (OL)',
    [damagedPhoto, fuseOpen, saw('control_cable_reads_open')],
    'unproven',
    'signs disagree',
  ],
  [
    'the same, the cable too near to a short to tell',
    [damagedPhoto, fuseOpen, cable(2.1)],
    'proven',
    'proven',
  ],
  ['a damaged wire on a photo, the fuse not looked at', [damagedPhoto], 'supported', 'supported'],
  [
    'a damaged wire on a photo, the fuse closed',
    [damagedPhoto, saw('control_fuse_reads_open', 'no')],
    'supported',
    'supported',
  ],
  [
    'a damaged wire behind an open fuse, on word alone',
    [saw('control_wire_damaged'), fuseOpen],
    'supported',
    'supported',
  ],
  [
    'a damaged wire while the call stands',
    [damagedPhoto, volts('board_cooling_call', 25.6)],
    'unproven',
    'signs disagree',
  ],
];
test.each(rows)('short in the control wiring: %s', (_name, signs, standing, reason) => {
  const ruleset = evidenceRulesets[currentEvidenceRuleset];
  const verdict = ruleset.weigh('control_short', airHandler(signs));
  expect([verdict.standing, verdict.reason]).toEqual([standing, reason]);
});

test('the cable is one for the whole system: what is found on it outdoors counts indoors', () => {
  const ruleset = evidenceRulesets[currentEvidenceRuleset];
  const system = [{ id: 'unit-2', kind: 'condensing_unit' as const, nameplate: {} }];
  const outdoors = { equipmentId: 'unit-2' };
  const weigh = (signs: Sign[]) =>
    ruleset.weigh('control_short', { ...airHandler(signs), system }).standing;
  expect(weigh([ohms('control_cable', 0.4, outdoors)])).toBe('proven');
  expect(weigh([fuseOpen, saw('control_wire_damaged', 'yes', { ...withPhoto, ...outdoors })])).toBe(
    'proven',
  );
});
