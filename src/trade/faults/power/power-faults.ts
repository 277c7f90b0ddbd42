import type { Fault } from '../fault.ts';
import { burntLineConnection } from './burnt-line-connection.ts';
import { lowSupplyVoltage } from './low-supply-voltage.ts';
import { openDisconnect } from './open-disconnect.ts';
import { openDisconnectFuse } from './open-disconnect-fuse.ts';
import { trippedBreaker } from './tripped-breaker.ts';
import { weakBreaker } from './weak-breaker.ts';
import { wrongBreakerSize } from './wrong-breaker-size.ts';

export const powerFaults = {
  tripped_breaker: trippedBreaker,
  weak_breaker: weakBreaker,
  wrong_breaker_size: wrongBreakerSize,
  low_supply_voltage: lowSupplyVoltage,
  open_disconnect: openDisconnect,
  open_disconnect_fuse: openDisconnectFuse,
  burnt_line_connection: burntLineConnection,
} as const satisfies Record<string, Fault>;
