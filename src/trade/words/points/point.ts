import type { Quantity } from '../quantities.ts';

/**
 * What a point can show of one quantity, in that quantity's unit. `low` to `high` is what is
 * possible at all, dead parts and locked rotors included; `usualLow` to `usualHigh` is what a
 * sound or worn part shows, and is used to guess what a slipped figure was meant to be.
 */
export type PointRange = { low: number; high: number; usualLow: number; usualHigh: number };

/**
 * A place where a reading is taken. `on` is the side of the system that has it. What is read of the
 * air and of the refrigerant tells of the whole system (`scope`), whichever machine it was noted on.
 */
export type PointWords = {
  name: string;
  on: 'outdoor' | 'indoor' | 'any';
  scope: 'machine' | 'system';
  ranges: Partial<Record<Quantity, PointRange>>;
};

export function range(low: number, high: number, usualLow: number, usualHigh: number): PointRange {
  return { low, high, usualLow, usualHigh };
}

export const controlVolts = range(0, 40, 18, 30);
export const lineVolts = range(0, 600, 100, 490);
/** Of a copper winding or a coil with nothing else connected to it. */
export const windingOhms = range(0, 5_000, 0.2, 200);
