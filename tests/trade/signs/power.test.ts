import { expect, test } from 'vitest';
import { admitEvidence } from '../../../src/trade/facts/admit-evidence.ts';
import type { Evidence } from '../../../src/trade/index.ts';
import { powerSignReaders } from '../../../src/trade/signs/power.ts';
import { airHandler, amps, makeEvidence, outdoorUnit, saw, volts } from '../make-evidence.ts';

const runs = saw('compressor_running');
const marked = (value: number) => amps('breaker_marking', value, { method: 'marking' });
const later = { takenAt: '2026-07-14T15:05:00Z' };

type Row = [name: string, evidence: Evidence, read: string | undefined];

// The plate of the outdoor unit asks for 197 V at least, MCA 23.5 A, MOCP 40 A. A multimeter of
// 1 % + 3 counts reads 196 V to 2.3 V, 20 V to 0.23 V and 0.3 V to 0.006 V.
const rows: Record<keyof typeof powerSignReaders, Row[]> = {
  line_volts: [
    ['nothing measured', outdoorUnit([]), undefined],
    ['0.4 V', outdoorUnit([volts('line_supply', 0.4)]), 'none'],
    ['20.1 V', outdoorUnit([volts('line_supply', 20.1)]), undefined],
    ['118 V', outdoorUnit([volts('line_supply', 118)]), 'low'],
    ['181 V', outdoorUnit([volts('line_supply', 181)]), 'low'],
    ['196 V', outdoorUnit([volts('line_supply', 196)]), undefined],
    ['241 V', outdoorUnit([volts('line_supply', 241)]), 'fine'],
    [
      'two that disagree',
      outdoorUnit([volts('line_supply', 181), volts('line_supply', 241, later)]),
      undefined,
    ],
    ['119 V at a furnace', makeEvidence('furnace', {}, [volts('line_supply', 119)]), 'fine'],
    ['96 V at a furnace', makeEvidence('furnace', {}, [volts('line_supply', 96)]), 'low'],
    ['0.4 V at an air handler', airHandler([volts('line_supply', 0.4)]), 'none'],
    [
      '119 V at an air handler of unknown plate',
      airHandler([volts('line_supply', 119)]),
      undefined,
    ],
    ['241 V at an air handler of unknown plate', airHandler([volts('line_supply', 241)]), 'fine'],
  ],
  disconnect_volts: [
    ['nothing measured', outdoorUnit([]), undefined],
    ['measured at the unit only', outdoorUnit([volts('line_supply', 241)]), undefined],
    ['0.2 V', outdoorUnit([volts('disconnect_line_side', 0.2)]), 'none'],
    ['183 V', outdoorUnit([volts('disconnect_line_side', 183)]), 'low'],
    ['242 V', outdoorUnit([volts('disconnect_line_side', 242)]), 'fine'],
  ],
  breaker_drop: [
    ['nothing measured', outdoorUnit([runs]), undefined],
    ['0.8 V under load', outdoorUnit([runs, volts('breaker', 0.8)]), 'high'],
    ['0.05 V under load', outdoorUnit([runs, volts('breaker', 0.05)]), 'fine'],
    ['0.304 V under load', outdoorUnit([runs, volts('breaker', 0.304)]), undefined],
    ['0.05 V without a load', outdoorUnit([volts('breaker', 0.05)]), undefined],
    ['240 V while it runs', outdoorUnit([runs, volts('breaker', 240)]), undefined],
  ],
  breaker_size: [
    ['nothing read', outdoorUnit([]), undefined],
    ['60 A', outdoorUnit([marked(60)]), 'too_large'],
    ['40 A', outdoorUnit([marked(40)]), 'fits'],
    ['20 A', outdoorUnit([marked(20)]), 'too_small'],
    ['60 A clamped', outdoorUnit([amps('breaker_marking', 60)]), undefined],
    ['40 A, no MCA on the plate', outdoorUnit([marked(40)], { mcaAmps: undefined }), undefined],
    ['60 A, no MCA on the plate', outdoorUnit([marked(60)], { mcaAmps: undefined }), 'too_large'],
  ],
  connection_drop: [
    ['nothing measured', outdoorUnit([runs]), undefined],
    ['0.8 V under load', outdoorUnit([runs, volts('line_connection', 0.8)]), 'high'],
    ['0.03 V under load', outdoorUnit([runs, volts('line_connection', 0.03)]), 'fine'],
    ['0.03 V without a load', outdoorUnit([volts('line_connection', 0.03)]), undefined],
    ['0.505 V under load', outdoorUnit([runs, volts('line_connection', 0.505)]), undefined],
  ],
};

const codes = Object.keys(rows) as (keyof typeof rows)[];
const cases = codes.flatMap((code) =>
  rows[code].map(([name, evidence, read]) => ({ code, name, evidence, read })),
);

test.each(cases)('$code, $name: $read', ({ code, evidence, read }) => {
  expect(powerSignReaders[code](admitEvidence(evidence))).toBe(read);
});
