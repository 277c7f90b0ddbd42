import { test } from 'vitest';
import { inH2O } from '../../make-circuit.ts';
import { airHandler, makeEvidence, type Sign, saw, withPhoto } from '../../make-evidence.ts';
import { expectVerdict, type Row } from './expect-verdict.ts';

const closed = saw('registers_closed');
const ductsLookedAt = saw('duct_blocked_or_loose', 'no');
const inOrder: Sign[] = [inH2O('filter_drop', 0.1), inH2O('indoor_coil_drop', 0.22)];
const high: Sign[] = [inH2O('return_static', -0.2), inH2O('supply_static', 0.45)];

// 0.65 of two readings, good to 0.012 and 0.0145: surely above the usual 0.50.
const rows: Row[] = [
  ['nothing recorded', [], 'unproven', 'nothing recorded'],
  ['seen closed', [closed], 'supported', 'supported'],
  [
    'a photo shows them closed',
    [saw('registers_closed', 'yes', withPhoto)],
    'supported',
    'supported',
  ],
  // Many sound blowers are made for more than the usual figure.
  [
    'closed, 0.65 in. w.c., filter, coil and ducts in order, no plate',
    [closed, ...high, ...inOrder, ductsLookedAt],
    'supported',
    'supported',
  ],
  [
    'closed and 0.65 in. w.c., but nobody looked at filter and coil',
    [closed, ...high],
    'supported',
    'supported',
  ],
  [
    'closed and 0.65 in. w.c., but the filter takes 0.40',
    [closed, ...high, inH2O('filter_drop', 0.4), inH2O('indoor_coil_drop', 0.22)],
    'supported',
    'supported',
  ],
  // A clean filter that is too dense still holds the air back.
  [
    'closed and 0.65 in. w.c., but a clean filter takes 0.40',
    [
      closed,
      ...high,
      saw('filter_dirty', 'no'),
      inH2O('filter_drop', 0.4),
      inH2O('indoor_coil_drop', 0.22),
    ],
    'supported',
    'supported',
  ],
  [
    'closed, yet only 0.40 in. w.c.',
    [closed, inH2O('return_static', -0.15), inH2O('supply_static', 0.25), ...inOrder],
    'supported',
    'supported',
  ],
  ['all open', [saw('registers_closed', 'no')], 'contradicted', 'contradicted'],
  [
    'all open, 0.65 in. w.c.',
    [saw('registers_closed', 'no'), ...high, ...inOrder],
    'contradicted',
    'contradicted',
  ],
];

test.each(rows)('closed registers: %s', (_name, signs, standing, reason) => {
  expectVerdict('closed_registers', airHandler(signs), standing, reason);
});

const plate = { externalStaticMaxInWc: 0.5 };
const onPlate: Row[] = [
  [
    'filter, coil and ducts in order',
    [closed, ...high, ...inOrder, ductsLookedAt],
    'proven',
    'proven',
  ],
  ['nobody looked at the ducts', [closed, ...high, ...inOrder], 'supported', 'supported'],
  [
    'a duct is crushed',
    [closed, ...high, ...inOrder, saw('duct_blocked_or_loose', 'yes', withPhoto)],
    'supported',
    'supported',
  ],
];
test.each(onPlate)(
  'closed and above the 0.50 of the plate: %s',
  (_name, signs, standing, reason) => {
    expectVerdict('closed_registers', airHandler(signs, plate), standing, reason);
  },
);

test('a blower whose plate allows 0.80 in. w.c. does not mind 0.65', () => {
  const evidence = airHandler([closed, ...high, ...inOrder], { externalStaticMaxInWc: 0.8 });
  expectVerdict('closed_registers', evidence, 'supported', 'supported');
});

test('a mini split has no registers', () => {
  const evidence = makeEvidence('mini_split', {}, [closed]);
  const reason = 'this fault is not found on a mini split';
  expectVerdict('closed_registers', evidence, 'not_applicable', reason);
});
