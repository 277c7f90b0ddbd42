import { z } from 'zod';
import { keysOf } from './keys-of.ts';
import { airPoints } from './points/air.ts';
import { controlPoints } from './points/control.ts';
import { motorPoints } from './points/motors.ts';
import type { PointRange, PointWords } from './points/point.ts';
import { powerPoints } from './points/power.ts';
import { refrigerantPoints } from './points/refrigerant.ts';
import type { Quantity } from './quantities.ts';

export type { PointRange } from './points/point.ts';

const allPoints = {
  ...powerPoints,
  ...controlPoints,
  ...motorPoints,
  ...airPoints,
  ...refrigerantPoints,
} as const;

export const pointCodeSchema = z.enum(keysOf(allPoints));
export type PointCode = z.infer<typeof pointCodeSchema>;

/** Where a reading is taken. */
export const pointWords: Record<PointCode, PointWords> = allPoints;

/** The range of a quantity at a point, or undefined where that quantity means nothing there. */
export function pointRange(point: PointCode, quantity: Quantity): PointRange | undefined {
  return pointWords[point].ranges[quantity];
}
