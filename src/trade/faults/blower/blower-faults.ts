import type { Fault } from '../fault.ts';
import { failedBlowerModule } from './failed-blower-module.ts';
import { failedBlowerMotor } from './failed-blower-motor.ts';
import { seizedBlower } from './seized-blower.ts';

export const blowerFaults = {
  seized_blower: seizedBlower,
  failed_blower_motor: failedBlowerMotor,
  failed_blower_module: failedBlowerModule,
} as const satisfies Record<string, Fault>;
