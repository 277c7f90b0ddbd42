import type { Facts } from '../facts/admit-evidence.ts';
import { reversingValveRise } from '../facts/reversing-valve-rise.ts';
import { valveRiseDegF } from '../faults/heat-pump/valve-rise-limits.ts';
import { compareWithLimit } from '../uncertainty/compare-with-limit.ts';
import type { SignReader } from './sign-reader.ts';

export const heatPumpSignReaders = {
  reversing_valve_lines: readValveLines,
} satisfies { [Code in 'reversing_valve_lines']: SignReader<Code> };

function readValveLines(facts: Facts): 'leaks' | 'fine' | undefined {
  const rise = reversingValveRise(facts);
  if (rise.kind !== 'settled') return undefined;
  const side = compareWithLimit(rise.measured, valveRiseDegF.suspected);
  return side === 'above' ? 'leaks' : side === 'below' ? 'fine' : undefined;
}
