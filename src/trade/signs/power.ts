import { markedBreakerFit } from '../facts/breaker-marking.ts';
import { breakerDropVoltsMax, connectionDropVolts, dropClass } from '../facts/closed-drop.ts';
import { supplyClass } from '../facts/supply-volts.ts';
import type { powerSigns } from '../words/signs/power.ts';
import type { SignReader } from './sign-reader.ts';

/** Line voltage and what carries it. */
export const powerSignReaders = {
  line_volts: (facts) => supplyClass(facts, 'line_supply'),
  disconnect_volts: (facts) => supplyClass(facts, 'disconnect_line_side'),
  breaker_drop: (facts) => dropClass(facts, 'breaker', breakerDropVoltsMax),
  breaker_size: markedBreakerFit,
  connection_drop: (facts) => dropClass(facts, 'line_connection', connectionDropVolts.raised),
} as const satisfies { [Code in keyof typeof powerSigns]: SignReader<Code> };
