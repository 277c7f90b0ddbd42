import { lineVoltsMin } from '../facts/supply-volts.ts';
import type { Measurement } from './verdict.ts';

/**
 * Whether a figure was only asked whether there is any line voltage at all. Its one limit is then no
 * limit of a sound supply: 90 V is above it and wrong.
 */
export function tellsPresence({ label, low, high }: Measurement): boolean {
  return label === 'Line voltage' && low === lineVoltsMin && high === undefined;
}
