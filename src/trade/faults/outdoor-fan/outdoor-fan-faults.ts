import type { Fault } from '../fault.ts';
import { failedOutdoorFanMotor } from './failed-outdoor-fan-motor.ts';

export const outdoorFanFaults = {
  failed_outdoor_fan_motor: failedOutdoorFanMotor,
} as const satisfies Record<string, Fault>;
