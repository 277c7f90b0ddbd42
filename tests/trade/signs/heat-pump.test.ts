import { expect, test } from 'vitest';
import { admitEvidence } from '../../../src/trade/facts/admit-evidence.ts';
import { heatPumpSignReaders } from '../../../src/trade/signs/heat-pump.ts';
import { pipeDegF } from '../make-circuit.ts';
import { makeEvidence, type Sign, saw } from '../make-evidence.ts';

const into = (value: number, minute = 0) => pipeDegF('reversing_valve_suction_in', value, minute);
const out = (value: number, minute = 0) => pipeDegF('reversing_valve_suction_out', value, minute);

// Two pipe clamps of 1.3 F each tell a rise to 1.84 F; beyond 5 F the valve leaks.
const rows: [name: string, signs: Sign[], sign: string | undefined][] = [
  ['nothing measured', [], undefined],
  ['one line only', [into(56)], undefined],
  ['a rise of 1 F', [into(56), out(57)], 'fine'],
  ['a rise of 6 F cannot be told from 5 F', [into(56), out(62)], undefined],
  ['a rise of 19 F', [into(56), out(75)], 'leaks'],
  ['half an hour apart', [into(56, 0), out(75, 30)], undefined],
  ['the machine stands', [into(56), out(75), saw('compressor_running', 'no')], undefined],
];
test.each(rows)('lines of the reversing valve: %s', (_name, signs, sign) => {
  const facts = admitEvidence(makeEvidence('heat_pump', {}, signs));
  expect(heatPumpSignReaders.reversing_valve_lines(facts)).toBe(sign);
});
