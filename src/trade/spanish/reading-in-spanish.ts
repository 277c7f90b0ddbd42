import type { Reading } from '../evidence.ts';
import { pointsInSpanish } from './points.ts';
import { quantitiesInSpanish } from './quantities.ts';

/** What a reading is of, in Spanish: 'Presión, puerto de servicio de succión'. */
export function readingInSpanish({ quantity, point }: Pick<Reading, 'quantity' | 'point'>): string {
  return `${quantitiesInSpanish[quantity]}, ${pointsInSpanish[point]}`;
}
