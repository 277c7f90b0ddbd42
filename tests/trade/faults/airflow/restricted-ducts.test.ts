import { test } from 'vitest';
import { inH2O } from '../../make-circuit.ts';
import { airHandler, type Sign, saw, withPhoto } from '../../make-evidence.ts';
import { expectVerdict, type Row } from './expect-verdict.ts';

const open = saw('registers_closed', 'no');
const inOrder: Sign[] = [inH2O('filter_drop', 0.1), inH2O('indoor_coil_drop', 0.2)];
const statics = (back: number, supply: number): Sign[] => [
  inH2O('return_static', back),
  inH2O('supply_static', supply),
];

// The plate allows 0.50. 0.70 less 0.10 and 0.20 leaves 0.40 to the ducts, 0.90 leaves 0.60: good to
// the root of 0.0145^2 + 0.0145^2 + 0.011^2 + 0.012^2 = 0.026 and so surely above 0.50.
const rows: Row[] = [
  ['nothing recorded', [], 'unproven', 'nothing recorded'],
  ['seen crushed or loose', [saw('duct_blocked_or_loose')], 'supported', 'supported'],
  [
    'a photo shows it crushed or loose',
    [saw('duct_blocked_or_loose', 'yes', withPhoto)],
    'proven',
    'proven',
  ],
  [
    '0.70 in. w.c. with filter, coil and registers in order',
    [open, ...inOrder, ...statics(-0.35, 0.35)],
    'supported',
    'supported',
  ],
  [
    '0.90 in. w.c. with filter, coil and registers in order',
    [open, ...inOrder, ...statics(-0.45, 0.45)],
    'proven',
    'proven',
  ],
  [
    '0.90 in. w.c. with registers closed',
    [saw('registers_closed'), ...inOrder, ...statics(-0.45, 0.45)],
    'unproven',
    'looked for, no sign found',
  ],
  [
    '0.90 in. w.c. and nobody walked the registers',
    [...inOrder, ...statics(-0.45, 0.45)],
    'unproven',
    'undecided by this method',
  ],
  [
    '0.90 in. w.c. of which filter and coil take 0.70',
    [open, inH2O('filter_drop', 0.35), inH2O('indoor_coil_drop', 0.35), ...statics(-0.45, 0.45)],
    'unproven',
    'looked for, no sign found',
  ],
  ['looked along, none found', [saw('duct_blocked_or_loose', 'no')], 'unproven', 'leans against'],
  [
    'none found crushed, but the ducts take 0.60',
    [saw('duct_blocked_or_loose', 'no'), open, ...inOrder, ...statics(-0.45, 0.45)],
    'proven',
    'proven, with the doubt named',
  ],
  ['0.40 in. w.c.', statics(-0.15, 0.25), 'unproven', 'leans against'],
  [
    'a loose duct in the photo at 0.40 in. w.c.',
    [saw('duct_blocked_or_loose', 'yes', withPhoto), ...statics(-0.15, 0.25)],
    'proven',
    'proven, with the doubt named',
  ],
  [
    '0.05 in. w.c. while the fan stood',
    [saw('indoor_fan_running', 'no'), ...statics(-0.02, 0.03)],
    'unproven',
    'undecided by this method',
  ],
];

test.each(rows)('restricted ducts: %s', (_name, signs, standing, reason) => {
  expectVerdict(
    'restricted_ducts',
    airHandler(signs, { externalStaticMaxInWc: 0.5 }),
    standing,
    reason,
  );
});

test('without the plate of the blower the ducts are suspected, never proven, by pressure', () => {
  const signs = [open, ...inOrder, ...statics(-0.45, 0.45)];
  expectVerdict('restricted_ducts', airHandler(signs), 'supported', 'supported');
});
