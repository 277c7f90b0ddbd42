import type { Fault } from '../fault.ts';
import { closedRegisters } from './closed-registers.ts';
import { dirtyBlowerWheel } from './dirty-blower-wheel.ts';
import { dirtyFilter } from './dirty-filter.ts';
import { dirtyIndoorCoil } from './dirty-indoor-coil.ts';
import { icedCoil } from './iced-coil.ts';
import { restrictedDucts } from './restricted-ducts.ts';

export const airflowFaults = {
  dirty_filter: dirtyFilter,
  dirty_indoor_coil: dirtyIndoorCoil,
  dirty_blower_wheel: dirtyBlowerWheel,
  closed_registers: closedRegisters,
  restricted_ducts: restrictedDucts,
  iced_coil: icedCoil,
} as const satisfies Record<string, Fault>;
