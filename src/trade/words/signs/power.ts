import type { SignWords } from './sign.ts';

/** Line voltage and what carries it. */
export const powerSigns = {
  line_volts: {
    on: 'any',
    needs: ['line_supply.voltage'],
    usually: { none: 0.006, low: 0.02, fine: 0.974 },
  },
  disconnect_volts: {
    on: 'any',
    needs: ['disconnect_line_side.voltage'],
    usually: { none: 0.004, low: 0.02, fine: 0.976 },
  },
  breaker_drop: { on: 'any', needs: ['breaker.voltage'], usually: { high: 0.01, fine: 0.99 } },
  breaker_size: {
    on: 'any',
    needs: ['breaker_marking.current'],
    usually: { too_small: 0.01, fits: 0.95, too_large: 0.04 },
  },
  connection_drop: {
    on: 'any',
    needs: ['line_connection.voltage'],
    usually: { high: 0.02, fine: 0.98 },
  },
} as const satisfies Record<string, SignWords>;
