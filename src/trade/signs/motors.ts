import { coilOhmsClass } from '../facts/coil-ohms.ts';
import { coilVoltsClass } from '../facts/coil-volts.ts';
import { contactorDropClass } from '../facts/contactor-drop.ts';
import { classOfSection } from '../faults/capacitor/class-of-section.ts';
import { sections } from '../faults/capacitor/sections.ts';
import type { motorsSigns } from '../words/signs/motors.ts';
import type { SignReader } from './sign-reader.ts';

type SwitchingSign =
  | 'contactor_coil_volts'
  | 'contactor_coil_ohms'
  | 'contactor_drop'
  | 'capacitor_herm'
  | 'capacitor_fan';

/** The contactor and the run capacitors of the outdoor motors. */
export const motorsSignReaders = {
  contactor_coil_volts: coilVoltsClass,
  contactor_coil_ohms: coilOhmsClass,
  contactor_drop: contactorDropClass,
  capacitor_herm: (facts) => classOfSection(facts, sections.herm),
  capacitor_fan: (facts) => classOfSection(facts, sections.fan),
} as const satisfies { [Code in SwitchingSign & keyof typeof motorsSigns]: SignReader<Code> };
